package org.meniscus.water.plan;

import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.SwimReadiness;

/** What the planner answers: a plan, or why there is none and what can be done meanwhile. */
public sealed interface PlanResult permits Plan, PlanRefusal {

	/** What is known of the water either way. */
	Assessment assessment();

	/** When people may swim either way. */
	SwimReadiness swim();

}
