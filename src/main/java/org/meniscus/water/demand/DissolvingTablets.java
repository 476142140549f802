package org.meniscus.water.demand;

import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;

/**
 * Trichlor tablets that visits put into a floater or feeder and wrote down, as far as they have not dissolved.
 *
 * @param undissolved FC they have still to bring, ppm
 * @param perDay what they bring a day meanwhile, ppm
 */
public record DissolvingTablets(double undissolved, double perDay) {

	/** Tablets dissolve over about a week. Common practice, no source. */
	public static final int DISSOLVING_DAYS = 7;

	/** The trade's table of products: trichlor not from here on, however much stabilizer a pool's own range allows, ppm. */
	private static final double CYA_LIMIT = 80;

	public static final DissolvingTablets NONE = new DissolvingTablets(0, 0);

	/** @throws IllegalArgumentException for a figure below zero */
	public DissolvingTablets {
		if (!(undissolved >= 0) || !(perDay >= 0)) {
			throw new IllegalArgumentException("tablets below zero: " + undissolved + ", " + perDay);
		}
	}

	/** CYA from which plans put in no tablets whatever the rest of the water is, ppm: the acceptable end of the pool's range, 80 at most. */
	public static double cyaLimit(PoolFacts pool) {
		Range range = pool.targets().range(Level.CYA);
		return (range == null) ? 0 : Math.min(CYA_LIMIT, range.acceptableHigh());
	}

	/** With so much more put in today. @param ppm FC in all */
	public DissolvingTablets plus(double ppm) {
		return new DissolvingTablets(undissolved + ppm, perDay + ppm / DISSOLVING_DAYS);
	}

	/** What they bring within so many days, ppm FC. */
	public double dissolvedWithin(double days) {
		return Math.min(undissolved, perDay * days);
	}

}
