package org.meniscus.water.drift;

import org.meniscus.water.pool.SlowLevels;

/**
 * Daily mass balance of one pool over a span of days. Water is a column, mm: weather, use and filling change its height. A dissolved level
 * {@code c} becomes {@code c × retention + dose × dosed + fill × filled}. Equations: docs/season.md.
 */
final class DailyBalance {

	/** CH above which scale falls out, ppm. */
	static final double SCALING_FROM = 450;

	/** Filled by hand once the level stands so far below the operating level, mm, and up to so far above it. Assumption. */
	private static final double HAND_FILL_BELOW = -40, HAND_FILL_TO = 10;

	final int days;

	/** Index into the arrays of {@link Weather}. */
	final int[] dayOfYear;

	/** After a day: what each ppm before it counts, but for breakdown and scaling. */
	private final double[] retained;

	/** What each ppm put in, on the operating volume, counts after the day. */
	private final double[] dosed;

	/** Share of the water that came in as fill water. */
	private final double[] filled;

	/** Column after rain and evaporation, before any water leaves. */
	private final double[] full;

	/** Column after water has left, before it is filled up. */
	private final double[] left;

	private final boolean autofill;

	private final Weather weather;

	private final PoolParameters parameters;

	/** Of the particle that was run last. */
	private double breakdown;

	private double scaling;

	/** Water level after the last day, mm above the operating level. */
	private double height;

	/** Fill water of all days, share of the volume. */
	private double totalFilled;

	/** @param from first day, since 1970-01-01 */
	DailyBalance(boolean autofill, Weather weather, PoolParameters parameters, long from, int days) {
		this.autofill = autofill;
		this.weather = weather;
		this.parameters = parameters;
		this.days = days;
		this.dayOfYear = new int[days];
		for (int d = 0; d < days; d++) {
			dayOfYear[d] = Weather.dayOfYear(from + d);
		}
		this.retained = new double[days];
		this.dosed = new double[days];
		this.filled = new double[days];
		this.full = new double[days];
		this.left = new double[days];
	}

	/**
	 * Takes the water of one particle through all days.
	 *
	 * @param startHeight mm above the operating level
	 * @param rain mm by day
	 * @param backwashes how many by day; a fraction where they are only expected
	 */
	void run(int particle, double startHeight, double[] rain, double[] backwashes) {
		double depth = parameters.depth[particle];
		double highest = depth + parameters.freeboard[particle];
		double evaporationFactor = parameters.evaporationFactor[particle];
		double splashOut = parameters.splashOut[particle];
		double leak = parameters.leak[particle];
		double backwash = parameters.backwash[particle];
		double above = startHeight;
		double fill = 0;
		for (int d = 0; d < days; d++) {
			int day = dayOfYear[d];
			double before = depth + above;
			double most = before + rain[d] - weather.evaporation[day] * evaporationFactor;
			double rest = Math.min(most - (splashOut * weather.bathing[day] + leak + backwashes[d] * backwash), highest);
			double after = fillUp(rest, depth);
			double per = 1 / (most * after);
			double scale = rest * per;
			retained[d] = before * scale;
			dosed[d] = depth * scale;
			filled[d] = (after - rest) * most * per;
			full[d] = most;
			left[d] = rest;
			fill += after - rest;
			above = after - depth;
		}
		this.height = above;
		this.totalFilled = fill / depth;
		this.breakdown = parameters.breakdown[particle];
		this.scaling = parameters.scaling[particle];
	}

	private double fillUp(double column, double depth) {
		if (autofill) {
			return Math.max(column, depth);
		}
		return (column < depth + HAND_FILL_BELOW) ? depth + HAND_FILL_TO : column;
	}

	/** Share of a level that stays through a day. */
	double retention(int level, int d, double ppm) {
		return retained[d] * (1 - loss(level, d, ppm));
	}

	/** Share of a level that is broken down or scales out on a day. */
	double loss(int level, int d, double ppm) {
		if (level == SlowLevels.CYA) {
			return breakdown * weather.breakdown[dayOfYear[d]];
		}
		return (level == SlowLevels.CH && ppm > SCALING_FROM) ? scaling * (1 - SCALING_FROM / ppm) : 0;
	}

	/** Level after a day. @param dose ppm put in, on the operating volume */
	double next(int d, double retention, double ppm, double dose, double fillPpm) {
		return retention * ppm + dosed[d] * dose + filled[d] * fillPpm;
	}

	double retained(int d) {
		return retained[d];
	}

	double dosed(int d) {
		return dosed[d];
	}

	double filled(int d) {
		return filled[d];
	}

	/** Share of the water that leaves on a day, evaporation aside. */
	double outflowShare(int d) {
		return outflow(d) / full[d];
	}

	/** Water that leaves on a day, evaporation aside, mm. */
	double outflow(int d) {
		return Math.max(1e-9, full[d] - left[d]);
	}

	double height() {
		return height;
	}

	double totalFilled() {
		return totalFilled;
	}

}
