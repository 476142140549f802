package org.meniscus.water.pool;

/** How sure one is of a volume. */
public enum VolumeCertainty {

	/** Metered at filling, or found by a salt or acid dose and its effect. */
	MEASURED,
	/** From shape, length, width and depths. */
	CALCULATED,
	/** Somebody's good guess; dosed with a caution. */
	ESTIMATED,
	/** Nobody has checked: no dose is worked out. */
	UNVERIFIED

}
