package org.meniscus.water.product;

/** When a product goes in. */
public enum TimeOfDay {

	ANY,
	/** Sun destroys it within hours. */
	DUSK,
	/** At dusk in water with little stabilizer, else at any time. */
	DUSK_IF_UNSTABILIZED,
	/** Dusk is better, day is possible. */
	DUSK_BETTER,
	/** Always in, from a feeder. */
	CONTINUOUS,
	AS_LABEL

}
