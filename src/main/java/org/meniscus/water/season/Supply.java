package org.meniscus.water.season;

/** What brings chlorine between visits, as far as the season depends on it. */
enum Supply {

	/** Nothing: all is poured at visits. */
	POURED,
	/** Trichlor tablets, as many as the plan of each visit decides. */
	TABLETS,
	/** A feeder of trichlor tablets that others keep filled. */
	FED_BY_OTHERS,
	/** An electrolytic cell. */
	CELL

}
