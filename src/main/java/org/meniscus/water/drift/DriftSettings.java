package org.meniscus.water.drift;

/**
 * One setting for all pools of a company.
 *
 * @param particles how many alternatives are carried for each pool; more is steadier and slower
 * @param outlooks how many of them are carried on into the future
 * @param raise a flag is raised at this probability of leaving the range within {@link #HORIZON} days
 */
public record DriftSettings(int particles, int outlooks, double raise) {

	/** Days ahead for which a flag speaks: twelve weeks. */
	public static final int HORIZON = 84;

	/** A standing flag is dropped below this share of the probability that raises one, so that nothing flaps. */
	static final double DROP = 0.35;

	/** For one pool, and for judging seasons visit by visit. */
	public static final DriftSettings USUAL = new DriftSettings(1000, 400, 0.77);

	/** For all pools of a company at once: a fifth of the work, somewhat less steady. */
	public static final DriftSettings SCAN = new DriftSettings(200, 120, 0.77);

	public DriftSettings {
		if (particles < 50 || outlooks < 50 || !(raise > 0 && raise < 1)) {
			throw new IllegalArgumentException("not a setting: " + particles + " particles, raised at " + raise);
		}
	}

	public DriftSettings withRaise(double probability) {
		return new DriftSettings(particles, outlooks, probability);
	}

}
