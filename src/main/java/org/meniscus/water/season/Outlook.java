package org.meniscus.water.season;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.treatment.Level;
import org.meniscus.water.treatment.Range;

/** Every alternative of a filter carried on from its day: the routine goes on, nobody intervenes but as a scenario says. */
final class Outlook {

	/** Not left by the end of what was looked at. */
	static final int NEVER = Integer.MAX_VALUE;

	/** Free chlorine a warm day takes where no chlorine is on record, ppm. Assumption. */
	static final double USUAL_CHLORINE = 1.35;

	/** Chance per day that a product in use is given up. Assumption, the same as the filter's per visit. */
	private static final double GIVEN_UP = 0.006 / 7;

	/** How much the routine to come differs from the one so far, spread of the logarithm. Assumption. */
	private static final double ROUTINE_SPREAD = 0.15;

	final long from;

	/** Days after {@link #from}: 0, 7, 14 and so on, and the last. */
	final int[] points;

	/** By level, point and alternative. */
	final double[][][] values;

	/** By level, side and alternative: days after {@link #from}. */
	final int[][][] exits;

	final double[] weight;

	/** Expected fill water, mm, and free chlorine, ppm on the true volume, from the first to the last day; chlorine by product. */
	double fill;

	final double[] chlorine = new double[DoseKind.values().length];

	private final SeasonFilter filter;

	private final @Nullable Scenario scenario;

	private final int days;

	Outlook(SeasonFilter filter, long end, @Nullable Scenario scenario) {
		this.filter = filter;
		this.scenario = scenario;
		this.from = filter.day;
		this.days = (int) Math.max(0, end - from);
		this.weight = filter.weight.clone();
		List<Integer> at = new ArrayList<>();
		for (int d = 0; d < days; d += 7) {
			at.add(d);
		}
		at.add(days);
		this.points = at.stream().mapToInt(Integer::intValue).toArray();
		int levels = SeasonFilter.LEVELS.size();
		this.values = new double[levels][][];
		this.exits = new int[levels][][];
		for (int level = 0; level < levels; level++) {
			if (filter.followed[level]) {
				values[level] = new double[points.length][filter.n];
				exits[level] = new int[2][filter.n];
				Arrays.fill(exits[level][0], NEVER);
				Arrays.fill(exits[level][1], NEVER);
			}
		}
		run();
	}

	private void run() {
		SeasonFilter f = filter;
		int levels = values.length;
		// its own numbers, so that asking for an outlook does not change what the filter does next, and scenarios compare like with like
		Noise noise = new Noise(77 + from);
		DoseKind[] kinds = f.routines.keySet().toArray(DoseKind[]::new);
		double[][] rates = new double[kinds.length][levels + 1];
		boolean[][] used = new boolean[kinds.length][];
		int[] covered = new int[kinds.length];
		for (int k = 0; k < kinds.length; k++) {
			Routine routine = f.routines.get(kinds[k]);
			for (int level = 0; level < levels; level++) {
				rates[k][level] = routine.rate(level);
			}
			rates[k][levels] = routine.chlorineRate();
			used[k] = f.inUse.getOrDefault(kinds[k], new boolean[f.n]);
			covered[k] = (int) Math.max(0, Math.min(days, routine.covered - from));
		}
		double[][] recorded = recorded(levels);
		int[] season = new int[days + 1];
		for (int d = 0; d <= days; d++) {
			season[d] = Weather.dayOfYear(from + d);
		}
		double[] low = new double[levels];
		double[] high = new double[levels];
		for (int level = 0; level < levels; level++) {
			Range range = f.pool.ranges().get(SeasonFilter.LEVELS.get(level));
			low[level] = (range != null) ? range.acceptableLow() : Double.NEGATIVE_INFINITY;
			high[level] = (range != null) ? range.acceptableHigh() : Double.POSITIVE_INFINITY;
		}
		WaterColumn water = new WaterColumn(f.pool.autofill());
		double[] now = new double[levels];
		double[] put = new double[levels];
		int[] until = new int[kinds.length];
		for (int i = 0; i < f.n; i++) {
			water.depth = f.constants[SeasonFilter.DEPTH][i];
			water.height = f.height[i];
			water.room = f.constants[SeasonFilter.ROOM][i];
			double gain = f.constants[SeasonFilter.GAIN][i];
			double routine = noise.lognormal(1, ROUTINE_SPREAD);
			for (int k = 0; k < kinds.length; k++) {
				double last = noise.exponential(1 / GIVEN_UP);
				until[k] = used[k][i] ? (int) Math.min(days + 1, last) : -1;
			}
			for (int level = 0; level < levels; level++) {
				double normal = noise.normal();
				if (f.followed[level]) {
					now[level] = Math.max(0, f.mean[level][i] + Math.sqrt(f.variance[level][i]) * normal);
					values[level][0][i] = now[level];
					leave(level, i, 0, now[level], low[level], high[level]);
				}
			}
			for (int d = 0, point = 1; d < days; d++) {
				int at = season[d];
				double demand = f.weather.demand[at];
				for (int level = 0; level < levels; level++) {
					put[level] = recorded[level][d];
				}
				double perDay = demand * routine;
				for (int k = 0; k < kinds.length; k++) {
					if (d >= covered[k] && d < until[k]) {
						for (int level = 0; level < levels; level++) {
							put[level] += perDay * rates[k][level];
						}
					}
				}
				double out = f.constants[SeasonFilter.SPLASH][i] * f.weather.bathing[at] + f.constants[SeasonFilter.LEAK][i];
				double[] rain = f.weather.rain[SeasonFilter.way(i, (from + d) / 7 + 1000)];
				water.day(rain[at], f.weather.evaporation[at] * f.constants[SeasonFilter.EVAPORATION][i], out);
				for (int level = 0; level < levels; level++) {
					if (f.followed[level]) {
						now[level] = next(level, i, d, at, now[level], gain * put[level], water);
						leave(level, i, d + 1, now[level], low[level], high[level]);
					}
				}
				if (d + 1 == points[point]) {
					for (int level = 0; level < levels; level++) {
						if (f.followed[level]) {
							values[level][point][i] = now[level];
						}
					}
					point++;
				}
			}
		}
	}

	private double next(int level, int i, int d, int at, double c, double in, WaterColumn water) {
		in += filter.floater(level, i);
		if (level == SeasonFilter.CH) {
			in += filter.plaster(i, (int) (from - filter.start) + d);
		}
		return water.kept * filter.keep(level, i, at, c) * c + water.dosed * in
				+ water.filled * filter.constants[SeasonFilter.FILL + level][i];
	}

	private void leave(int level, int i, int d, double c, double low, double high) {
		if (c < low && exits[level][0][i] == NEVER) {
			exits[level][0][i] = d;
		}
		if (c > high && exits[level][1][i] == NEVER) {
			exits[level][1][i] = d;
		}
	}

	private double[][] recorded(int levels) {
		double[][] sums = new double[levels][days + 1];
		int offset = (int) (from - filter.start);
		for (double[][] kind : filter.recorded) {
			for (int level = 0; level < levels; level++) {
				double[] parts = kind[level];
				for (int d = 0; parts != null && d < days && offset + d < parts.length; d++) {
					sums[level][d] += parts[offset + d];
				}
			}
		}
		return sums;
	}

	Scenario.Cost cost(Scenario.Prices prices) {
		return new Scenario.Cost(0, 0, 0, 0);
	}

	Band band(int level, int point) {
		return band(values[level][point], weight);
	}

	static Band band(double[] values, double[] weight) {
		double mean = 0;
		for (int i = 0; i < values.length; i++) {
			mean += weight[i] * values[i];
		}
		double[] ends = quantiles(values, weight, 0.1, 0.9);
		return new Band(ends[0], mean, ends[1]);
	}

	static double[] quantiles(double[] values, double[] weight, double... shares) {
		Integer[] order = new Integer[values.length];
		for (int i = 0; i < order.length; i++) {
			order[i] = i;
		}
		Arrays.sort(order, (a, b) -> Double.compare(values[a], values[b]));
		double[] answers = new double[shares.length];
		double sum = 0;
		int k = -1;
		for (int s = 0; s < shares.length; s++) {
			while (k < order.length - 1 && (k < 0 || sum < shares[s])) {
				sum += weight[order[++k]];
			}
			answers[s] = values[order[k]];
		}
		return answers;
	}

	/** Probability of having left by so many days. */
	double left(int level, Side side, int days) {
		double sum = 0;
		int[] exit = exits[level][side.ordinal()];
		for (int i = 0; i < exit.length; i++) {
			if (exit[i] <= days) {
				sum += weight[i];
			}
		}
		return Math.min(1, sum);
	}

	/** Days by which it has been left with the probability; null when not by the end of what was looked at. */
	@Nullable Integer leftBy(int level, Side side, double probability) {
		double[] of = new double[days + 1];
		int[] exit = exits[level][side.ordinal()];
		for (int i = 0; i < exit.length; i++) {
			if (exit[i] <= days) {
				of[exit[i]] += weight[i];
			}
		}
		double sum = 0;
		for (int d = 0; d <= days; d++) {
			sum += of[d];
			if (sum >= probability) {
				return d;
			}
		}
		return null;
	}

}
