package org.meniscus.client;

import java.util.Collection;
import java.util.Set;

import org.meniscus.platform.CompanyId;

/** What pages about pools say first; visits provide it, so that clients do not depend on them. */
public interface ClosedPools {

	/** Those that the newest visit left closed to swimmers. */
	Set<PoolId> closed(CompanyId company, Collection<PoolId> pools);

}
