package org.meniscus.water.drift;

/**
 * One setting for all pools of a company.
 *
 * @param particles of the filter of each pool; more is steadier and slower
 * @param ensembleSize members of a forecast
 * @param flagThreshold a flag is raised at this probability of an exit within {@link #HORIZON_DAYS} days
 */
public record DriftSettings(int particles, int ensembleSize, double flagThreshold) {

	/** Days ahead for which a flag speaks: twelve weeks. */
	public static final int HORIZON_DAYS = 84;

	/** A standing flag is cleared below this share of the threshold (hysteresis). */
	static final double CLEAR_RATIO = 0.35;

	/** For one pool, and for walk-forward assessment. */
	public static final DriftSettings SINGLE_POOL = new DriftSettings(1000, 400, 0.77);

	/** For all pools of a company at once: a fifth of the work, somewhat less steady. */
	public static final DriftSettings SCAN = new DriftSettings(200, 120, 0.77);

	public DriftSettings {
		if (particles < 50 || ensembleSize < 50 || !(flagThreshold > 0 && flagThreshold < 1)) {
			throw new IllegalArgumentException("not a setting: " + particles + " particles, raised at " + flagThreshold);
		}
	}

	public DriftSettings withFlagThreshold(double probability) {
		return new DriftSettings(particles, ensembleSize, probability);
	}

}
