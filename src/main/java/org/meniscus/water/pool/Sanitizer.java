package org.meniscus.water.pool;

/** What keeps the water disinfected between visits. */
public enum Sanitizer {

	/** Chlorine added by hand at visits or by the client. */
	CHLORINE_BY_HAND,
	/** By hand as well, and trichlor tablets in a floater that the service fills when a plan says so. */
	FLOATER,
	/** Trichlor tablets in a feeder. */
	TABLET_FEEDER,
	/** Electrolytic chlorine generator: makes the daily chlorine from salt. */
	SALT_CELL,
	/** Bromine: free chlorine is not tested, CYA has no role. */
	BROMINE,
	/** Biguanide: chlorine and monopersulfate must not enter. */
	BIGUANIDE;

	/** Trichlor tablets dissolve here between visits. */
	public boolean usesTablets() {
		return this == FLOATER || this == TABLET_FEEDER;
	}

	/** Free chlorine is what disinfects here. */
	public boolean usesChlorine() {
		return this == CHLORINE_BY_HAND || this == FLOATER || this == TABLET_FEEDER || this == SALT_CELL;
	}

}
