package org.meniscus.water.demand;

import org.jspecify.annotations.Nullable;

/**
 * Kind of pool, as far as the prior of its chlorine demand depends on it.
 *
 * @param litres null when nobody has said
 * @param cellSupply what the cell brings a day as it is set now, ppm FC; null when it is not known
 * @param sunShare share of a day's sun that no cover keeps off, 0 to 1
 * @param bathersPerDay null when nobody has said
 */
public record PoolKind(boolean spa, boolean indoor, @Nullable Double litres, Feed feed, @Nullable Double cellSupply, double sunShare,
		@Nullable Double bathersPerDay) {

	/** Without anything on file of cell, cover and bathers. */
	public PoolKind(boolean spa, boolean indoor, @Nullable Double litres, Feed feed) {
		this(spa, indoor, litres, feed, null, 1, null);
	}

	/** What brings chlorine between visits. */
	public enum Feed {

		NONE,
		/** Tablets whose weight the visits record; unknown where they record none. */
		TABLETS,
		/** Electrolytic cell: what it makes a day is not recorded. */
		CELL

	}

	/**
	 * First-order rate constant of photolysis, 1/day, at the height of summer: without CYA a half-life of 36 to 54 minutes, with 25 to 50
	 * mg/L of CYA one of 8.5 to 20 hours of sun (common practice, no source), at 138 mg/L 1 to 2 % a day
	 * (Wojtowicz, Swimming Pool and Spa Industry 5(1):15-19); five hours of full sun a day and the curve between are assumptions.
	 */
	private static final double UNSTABILIZED_PHOTOLYSIS_RATE = 4.6;

	private static final double PHOTOLYSIS_RATE_AT_40 = 0.2;

	private static final double PHOTOLYSIS_EXPONENT = 2.1;

	/** Slow decay of chlorinated isocyanurates, 1/day: 14 % a day in all at 138 mg/L, Phoenix in summer, no bathers (same paper). */
	private static final double DECAY_RATE = 0.135;

	private static final double HALF_DECAY_CYA = 10;

	/**
	 * Bathers, leaves and growth, ppm a day in {@link #USUAL_LITRES} of water: with sun and decay at CYA 40 it makes 1.5 ppm a day at
	 * FC 3, the middle of the usual 1 to 2 ppm a day of a stabilized pool in summer. Common practice, no source.
	 */
	private static final double ZERO_ORDER_RATE = 0.6;

	/** The same under a roof or a lid. */
	private static final double SHADED_ZERO_ORDER_RATE = 0.35;

	private static final double USUAL_LITRES = 60_000;

	/** Under a roof or a lid: with {@link #SHADED_ZERO_ORDER_RATE} half a ppm a day at FC 3. Common practice, no source. */
	private static final double SHADED_FIRST_ORDER_RATE = 0.05;

	/**
	 * Chlorine that a bather takes, g: about half a gram of nitrogen in sweat, skin film and urine (of the size in Keuten et al., Water
	 * Research 2012 and 2014, from memory) times the 7.6 of breakpoint chlorination.
	 */
	public static final double GRAMS_PER_BATHER = 4;

	/** Bathers a day of a garden pool that its usual use has in it; common practice, no source. */
	private static final double USUAL_BATHERS = 2;

	/** FC a cell or feeder is set to hold; the middle of the usual range. */
	static final double HELD_FC = 3;

	/** Standard deviation of ln use among pools of a kind; assumption. */
	private static final double USE_LOG_DEVIATION = 0.42;

	private static final double SPA_USE_LOG_DEVIATION = 0.6;

	/** Standard deviation of ln supply against the use it was set for; assumption. */
	private static final double SUPPLY_LOG_DEVIATION = 0.3;

	/** Prior standard deviation of ln use. */
	double useLogDeviation() {
		return this.spa ? SPA_USE_LOG_DEVIATION : USE_LOG_DEVIATION;
	}

	/**
	 * Prior standard deviation of ln supply. Unknown supply is estimated in place of the use: a level that is held tells only how one
	 * stands to the other.
	 */
	double supplyLogDeviation() {
		return SUPPLY_LOG_DEVIATION;
	}

	/** Median of pools of this kind, 1/day. @param cya ppm */
	public double firstOrderRate(double celsius, double cya) {
		if (this.spa || this.indoor) {
			return SHADED_FIRST_ORDER_RATE;
		}
		double photolysis = 1 / (1 / UNSTABILIZED_PHOTOLYSIS_RATE + Math.pow(cya / 40, PHOTOLYSIS_EXPONENT) / PHOTOLYSIS_RATE_AT_40);
		return seasonalFactor(celsius) * (this.sunShare * photolysis + DECAY_RATE * cya / (cya + HALF_DECAY_CYA));
	}

	/** Median of pools of this kind, ppm a day. */
	public double zeroOrderRate(double celsius) {
		if (this.spa || this.indoor) {
			return withBathers(SHADED_ZERO_ORDER_RATE);
		}
		double size = (this.litres != null && this.litres > 0) ? Math.cbrt(USUAL_LITRES / this.litres) : 1;
		return withBathers(seasonalFactor(celsius) * ZERO_ORDER_RATE * Math.max(0.7, Math.min(1.6, size)));
	}

	/** The usual rate has the usual bathers in it; never less than a third of it is left without any. */
	private double withBathers(double usualRate) {
		if (this.bathersPerDay == null || this.litres == null || !(this.litres > 0)) {
			return usualRate;
		}
		double more = this.bathersPerDay - (this.spa ? 0 : USUAL_BATHERS);
		return Math.max(usualRate / 3, usualRate + more * GRAMS_PER_BATHER * 1000 / this.litres);
	}

	/**
	 * Course of the year by the water's temperature, which stands for the sun too: 1 at 29 °C, twice as much each 8 °C, a rest of
	 * 15 % in the cold. Assumption of the size of the paper's doubling in 5 degrees.
	 */
	private static double seasonalFactor(double celsius) {
		return 0.15 + 0.85 * Math.max(0.12, Math.min(1.3, Math.pow(2, (celsius - 29) / 8)));
	}

}
