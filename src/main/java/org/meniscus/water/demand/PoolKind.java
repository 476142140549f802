package org.meniscus.water.demand;

import org.jspecify.annotations.Nullable;

/**
 * What kind of pool it is, as far as that tells how it uses up chlorine before anything is known of the pool itself.
 *
 * @param litres null when nobody has said
 */
public record PoolKind(boolean spa, boolean indoor, @Nullable Double litres, Feed feed) {

	/** What brings chlorine between visits. */
	public enum Feed {

		NONE,
		/** Tablets whose weight the visits record; unknown where they record none. */
		TABLETS,
		/** Electrolytic cell: what it makes a day is not recorded. */
		CELL

	}

	/**
	 * Share of FC the sun takes a day, 1/day, at the height of summer: without CYA a half-life of 36 to 54 minutes, with 25 to 50
	 * mg/L of CYA one of 8.5 to 20 hours of sun (general pool guide of 2009, common practice), at 138 mg/L 1 to 2 % a day
	 * (Wojtowicz, Swimming Pool and Spa Industry 5(1):15-19); five hours of full sun a day and the curve between are assumptions.
	 */
	private static final double BARE_SUN = 4.6;

	private static final double SUN_AT_40 = 0.2;

	private static final double SUN_POWER = 2.1;

	/** Slow decay of chlorinated isocyanurates, 1/day: 14 % a day in all at 138 mg/L, Phoenix in summer, no bathers (same paper). */
	private static final double DECAY = 0.135;

	private static final double HALF_DECAY_CYA = 10;

	/**
	 * Bathers, leaves and growth, ppm a day in {@link #USUAL_LITRES} of water: with sun and decay at CYA 40 it makes 1.5 ppm a day at
	 * FC 3, the middle of the usual 1 to 2 ppm a day of a stabilized pool in summer. Common practice, no source.
	 */
	private static final double CONSTANT = 0.6;

	/** The same under a roof or a lid. */
	private static final double SHADED_CONSTANT = 0.35;

	private static final double USUAL_LITRES = 60_000;

	/** Under a roof or a lid: with {@link #SHADED_CONSTANT} half a ppm a day at FC 3. Common practice, no source. */
	private static final double SHADED = 0.05;

	/** FC a cell or feeder is set to hold; the middle of the usual range. */
	static final double HELD_FC = 3;

	/** S.d. of ln use among pools of a kind; assumption. */
	private static final double DOUBT = 0.42;

	private static final double SPA_DOUBT = 0.6;

	/** S.d. of ln supply against the use it was set for; assumption. */
	private static final double SUPPLY_DOUBT = 0.3;

	/** Unknown supply is learnt in place of the use: a level that is held tells only how one stands to the other. */
	double doubt() {
		return this.spa ? SPA_DOUBT : DOUBT;
	}

	double supplyDoubt() {
		return SUPPLY_DOUBT;
	}

	/** Share of the FC that is there, 1/day, in the middle of pools of this kind. @param cya ppm */
	double proportional(double celsius, double cya) {
		if (this.spa || this.indoor) {
			return SHADED;
		}
		double sun = 1 / (1 / BARE_SUN + Math.pow(cya / 40, SUN_POWER) / SUN_AT_40);
		return season(celsius) * (sun + DECAY * cya / (cya + HALF_DECAY_CYA));
	}

	/** Ppm a day whatever is there, in the middle of pools of this kind. */
	double constant(double celsius) {
		if (this.spa || this.indoor) {
			return SHADED_CONSTANT;
		}
		double size = (this.litres != null && this.litres > 0) ? Math.cbrt(USUAL_LITRES / this.litres) : 1;
		return season(celsius) * CONSTANT * Math.max(0.7, Math.min(1.6, size));
	}

	/**
	 * Course of the year by the water's temperature, which stands for the sun too: 1 at 29 °C, twice as much each 8 °C, a rest of
	 * 15 % in the cold. Assumption of the size of the paper's doubling in 5 degrees.
	 */
	private static double season(double celsius) {
		return 0.15 + 0.85 * Math.max(0.12, Math.min(1.3, Math.pow(2, (celsius - 29) / 8)));
	}

}
