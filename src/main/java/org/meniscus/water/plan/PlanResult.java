package org.meniscus.water.plan;

import java.util.List;

import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Reason;

/** What the planner answers: a plan, or why there is none and what can be done meanwhile. */
public sealed interface PlanResult permits Plan, PlanResult.PlanRefusal {

	/** What is known of the water either way. */
	Assessment assessment();

	/** When people may swim either way. */
	SwimReadiness swim();

	/**
	 * No dose is worked out.
	 *
	 * @param swim as the water is
	 * @param reasons what is missing or wrong, as data
	 * @param tasks what can be done without it
	 */
	record PlanRefusal(Assessment assessment, SwimReadiness swim, List<Reason> reasons, List<Reason> tasks) implements PlanResult {

		public PlanRefusal {
			reasons = List.copyOf(reasons);
			tasks = List.copyOf(tasks);
		}

	}

}
