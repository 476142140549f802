package org.meniscus.water.demand;

import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;

/**
 * Trichlor tablets that visits put into a floater or feeder and wrote down, as far as they have not dissolved.
 *
 * @param left FC they have still to bring, ppm
 * @param perDay what they bring a day meanwhile, ppm
 */
public record DissolvingTablets(double left, double perDay) {

	/** Tablets dissolve over about a week. Common practice, no source. */
	public static final int DAYS = 7;

	/** No tablets from here on, however much stabilizer a pool's own range allows, ppm: the trade's table of products. */
	private static final double CYA_NO_MORE = 80;

	public static final DissolvingTablets NONE = new DissolvingTablets(0, 0);

	/** @throws IllegalArgumentException for a figure below zero */
	public DissolvingTablets {
		if (!(left >= 0) || !(perDay >= 0)) {
			throw new IllegalArgumentException("tablets below zero: " + left + ", " + perDay);
		}
	}

	/** CYA up to which plans let tablets bring it: the end of the pool's ideal range, ppm. */
	public static double mostCya(PoolFacts pool) {
		Range range = pool.targets().range(Level.CYA);
		return (range == null) ? 0 : Math.min(CYA_NO_MORE, range.idealHigh());
	}

	/** With so much more put in today. @param ppm FC in all */
	public DissolvingTablets with(double ppm) {
		return new DissolvingTablets(left + ppm, perDay + ppm / DAYS);
	}

	/** What they bring within so many days, ppm FC. */
	public double within(double days) {
		return Math.min(left, perDay * days);
	}

}
