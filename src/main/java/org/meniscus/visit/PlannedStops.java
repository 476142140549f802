package org.meniscus.visit;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.SignedInUser;

/** What visits need to know of routes; routes provide it, so that visits do not depend on them. */
public interface PlannedStops {

	Optional<PlannedStop> find(CompanyId company, UUID stop);

	/** The next day on which a stop at the pool is planned, after the given one. */
	Optional<LocalDate> nextAfter(CompanyId company, PoolId pool, LocalDate day);

	/** Whether somebody may see and visit the pool: office always, a technician who has a stop there about that day. */
	boolean mayVisit(SignedInUser user, PoolId pool, LocalDate day);

}
