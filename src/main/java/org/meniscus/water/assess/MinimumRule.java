package org.meniscus.water.assess;

/** How the lowest FC follows from stabilizer. The code's own value for the kind of water always holds as well. */
public enum MinimumRule {

	/** FC at least CYA over a ratio; Falk et al., Water 11(6) 1314, 2019, figure from memory. */
	CYA_RATIO,
	/**
	 * FC that gives as much hypochlorous acid as the ratio gives at pH 7.5 and 25 °C: takes the pH and temperature of the day
	 * into account, so it asks for more at a high pH.
	 */
	HYPOCHLOROUS_ACID

}
