package org.meniscus.visit;

import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;

/** A visit has been replaced by a new version of itself; published inside that transaction. */
public record VisitCorrected(CompanyId company, VisitRecord before, VisitRecord after) {

	/** A correction never moves a visit to another pool. */
	public PoolId pool() {
		return after.pool();
	}

}
