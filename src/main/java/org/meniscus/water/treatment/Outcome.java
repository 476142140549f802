package org.meniscus.water.treatment;

/** What the planner answers: a plan, or why there is none and what can be done meanwhile. */
public sealed interface Outcome permits Plan, Refused {

	/** What is known of the water either way. */
	Assessment assessment();

}
