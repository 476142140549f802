package org.meniscus.water.drift;

import java.util.Arrays;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.NormalDistribution;

/**
 * Forecast from the day of a particle filter on: an equally weighted ensemble of its particles. The routine goes on, nobody intervenes but
 * as a scenario says.
 */
final class ForecastEnsemble {

	/** Not within the forecast. */
	static final int NEVER = Integer.MAX_VALUE;

	/** Bands are wider by this than the ensemble's, for what the equations leave out. Assumption. */
	private static final double BAND_INFLATION = 1.08;

	/** Days of exit are wider by as much: the share of a normal distribution below 1.08 times its 10 % point. */
	static final double EARLY = NormalDistribution.cdf(BAND_INFLATION * NormalDistribution.quantile(0.1));

	final long from;

	/** Days after {@link #from}: 0, 7, 14 and so on, and the last. */
	final int[] points;

	/** By level, point and member. */
	final double[][][] values;

	/** By level and member: change to the last day if from now on nothing came from the service, not even what still dissolves. */
	private final double[][] baselineChange;

	/** By level, end of its range and member: days after {@link #from}. */
	final int[][][] exits;

	final int size;

	private final int days;

	private final EnsembleSimulation simulation;

	ForecastEnsemble(LevelParticleFilter filter, int size, long end, @Nullable Scenario scenario) {
		this.size = size;
		this.from = filter.day;
		this.days = (int) Math.max(0, end - from);
		this.points = IntStream.concat(IntStream.iterate(0, d -> d < days, d -> d + 7), IntStream.of(days)).toArray();
		this.values = new double[SlowLevels.COUNT][][];
		this.baselineChange = new double[SlowLevels.COUNT][size];
		this.exits = new int[SlowLevels.COUNT][][];
		for (int level : filter.followed) {
			values[level] = new double[points.length][size];
			exits[level] = new int[RangeEnd.values().length][size];
			for (int[] days : exits[level]) {
				Arrays.fill(days, NEVER);
			}
		}
		this.simulation = new EnsembleSimulation(filter, days, scenario, this);
		int[] particles = Resampling.systematicResample(filter.weight, size);
		for (int member = 0; member < size; member++) {
			simulation.run(member, particles[member]);
		}
	}

	/** A member's level after {@code d} days. */
	void record(int level, int member, int d, double ppm) {
		if (d == days) {
			values[level][points.length - 1][member] = ppm;
		}
		else if (d % 7 == 0) {
			values[level][d / 7][member] = ppm;
		}
	}

	void recordExit(int level, RangeEnd end, int member, int d) {
		int[] first = exits[level][end.ordinal()];
		first[member] = Math.min(first[member], d);
	}

	void recordBaseline(int level, int member, double ppm) {
		baselineChange[level][member] = ppm - values[level][0][member];
	}

	/** @return null when the volume is not known */
	Scenario.@Nullable Cost cost(Scenario.Prices prices) {
		return simulation.cost(prices);
	}

	Band band(int level, int point) {
		Band band = band(values[level][point]);
		return new Band(Math.max(0, band.low()), band.middle(), band.high());
	}

	/** By how much a level moves by the last day if the service puts nothing in, ppm. */
	Band baselineChange(int level) {
		return band(baselineChange[level]);
	}

	int days() {
		return days;
	}

	private Band band(double[] members) {
		double[] sorted = members.clone();
		Arrays.sort(sorted);
		double mean = Arrays.stream(sorted).average().orElse(0);
		return Band.around(mean - BAND_INFLATION * (mean - sorted[(int) (0.1 * size)]), mean,
				mean + BAND_INFLATION * (sorted[(int) (0.9 * size)] - mean));
	}

	/** Quantiles of weighted values. @param probabilities rising */
	static double[] quantiles(double[] values, double[] weight, double... probabilities) {
		Integer[] order = new Integer[values.length];
		Arrays.setAll(order, i -> i);
		Arrays.sort(order, (a, b) -> Double.compare(values[a], values[b]));
		double[] quantiles = new double[probabilities.length];
		double sum = 0;
		int k = -1;
		for (int p = 0; p < probabilities.length; p++) {
			while (k < order.length - 1 && (k < 0 || sum < probabilities[p])) {
				sum += weight[order[++k]];
			}
			quantiles[p] = values[order[k]];
		}
		return quantiles;
	}

	/** Of having left the range at this end within so many days. */
	double exitProbability(int level, RangeEnd end, int withinDays) {
		return (double) Arrays.stream(exits[level][end.ordinal()]).filter(exit -> exit <= withinDays).count() / size;
	}

	/** Days within which the range has been left at this end with the probability; null when not within the forecast. */
	@Nullable
	Integer exitQuantile(int level, RangeEnd end, double probability) {
		int[] sorted = exits[level][end.ordinal()].clone();
		Arrays.sort(sorted);
		int exit = sorted[Math.min(size - 1, (int) (probability * size))];
		return (exit == NEVER) ? null : Integer.valueOf(exit);
	}

}
