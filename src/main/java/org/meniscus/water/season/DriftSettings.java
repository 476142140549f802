package org.meniscus.water.season;

/**
 * One setting for all pools of a company.
 *
 * @param particles how many alternatives are carried for each pool; more is steadier and slower
 * @param raise a flag is raised at this probability of leaving the range within {@link #HORIZON} days
 */
public record DriftSettings(int particles, double raise) {

	/** Days ahead for which a flag speaks. */
	public static final int HORIZON = 56;

	/** A standing flag is dropped below this share of the probability that raises one, so that nothing flaps. */
	static final double DROP = 0.35;

	public static final DriftSettings USUAL = new DriftSettings(500, 0.5);

	public DriftSettings {
		if (particles < 50 || !(raise > 0 && raise < 1)) {
			throw new IllegalArgumentException("not a setting: " + particles + " particles, raised at " + raise);
		}
	}

	public DriftSettings withRaise(double probability) {
		return new DriftSettings(particles, probability);
	}

}
