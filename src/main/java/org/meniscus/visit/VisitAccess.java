package org.meniscus.visit;

import java.time.LocalDate;

import org.meniscus.client.PoolId;
import org.meniscus.platform.SignedInUser;
import org.springframework.stereotype.Component;

/** Who may enter, see and correct which visit. */
@Component
class VisitAccess {

	private final PlannedStops routes;

	VisitAccess(PlannedStops routes) {
		this.routes = routes;
	}

	boolean mayVisit(SignedInUser me, PoolId pool, LocalDate day) {
		return me.hasOfficeAccess() || routes.mayVisit(me, pool, day);
	}

	/** The office all; a technician the visits he made and those to pools where he has a stop about today. */
	boolean maySee(SignedInUser me, VisitRecord visit, LocalDate today) {
		return visit.technician().equals(me.person()) || mayVisit(me, visit.pool(), today);
	}

	/** The office always; the technician who made it on its own day. */
	static boolean mayCorrect(SignedInUser me, VisitRecord visit, LocalDate today) {
		return me.hasOfficeAccess() || (visit.technician().equals(me.person()) && visit.performedOn().equals(today));
	}

}
