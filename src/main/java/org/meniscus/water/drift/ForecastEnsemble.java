package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Range;
import org.meniscus.water.units.Band;

/** Every alternative of a filter carried on from its day: the routine goes on, nobody intervenes but as a scenario says. */
final class ForecastEnsemble {

	/** Not left by the end of what was looked at. */
	static final int NEVER = Integer.MAX_VALUE;

	/** Free chlorine a warm day takes where no chlorine is on record, ppm. Assumption. */
	static final double USUAL_CHLORINE = 1.35;

	/** Chance per day that a product in use is given up. Assumption, the same as the filter's per visit. */
	private static final double GIVEN_UP = 0.006 / 7;

	/** How much the routine to come differs from the one so far, spread of the logarithm. Assumption. */
	private static final double ROUTINE_SPREAD = 0.15;

	/** Bands are wider by this than the alternatives lie apart, for what the equations leave out. Assumption. */
	private static final double WIDER = 1.08;

	/** Days of leaving are wider by as much: the share of a normal distribution below 1.08 times its 10 % point. */
	static final double EARLY = DriftNormal.cdf(WIDER * DriftNormal.quantile(0.1));

	final long from;

	/** Days after {@link #from}: 0, 7, 14 and so on, and the last. */
	final int[] points;

	/** By level, point and alternative. */
	final double[][][] values;

	/** By level and alternative: change to the last day if from now on nothing came from the service, not even what still dissolves. */
	private final double[][] alone;

	/** By level, side and alternative: days after {@link #from}. */
	final int[][][] exits;

	/** How many alternatives are carried on, each as likely as another. */
	final int n;

	/** Which of the filter's each one is. */
	private final int[] of;

	/** Expected fill water from the first to the last day, share of the volume; only counted for a scenario. */
	private double filled;

	/** Expected free chlorine by product, ppm on the recorded volume; only counted for a scenario. */
	private final double[] chlorine = new double[DoseKind.values().length];

	private final LevelParticleFilter filter;

	private final @Nullable Scenario scenario;

	private final int days;

	private final List<Scenario.Change> drains;

	ForecastEnsemble(LevelParticleFilter filter, long end, @Nullable Scenario scenario) {
		this.filter = filter;
		this.n = filter.outlooks;
		this.of = filter.systematicResample(n);
		this.scenario = scenario;
		this.from = filter.day;
		this.drains = changes().stream().filter(Scenario.Change.PartialDrain.class::isInstance).toList();
		this.days = (int) Math.max(0, end - from);
		List<Integer> at = new ArrayList<>();
		for (int d = 0; d < days; d += 7) {
			at.add(d);
		}
		at.add(days);
		this.points = at.stream().mapToInt(Integer::intValue).toArray();
		int levels = LevelParticleFilter.LEVELS.size();
		this.values = new double[levels][][];
		this.alone = new double[levels][n];
		this.exits = new int[levels][][];
		for (int level = 0; level < levels; level++) {
			if (filter.followed[level]) {
				values[level] = new double[points.length][n];
				exits[level] = new int[2][n];
				Arrays.fill(exits[level][0], NEVER);
				Arrays.fill(exits[level][1], NEVER);
			}
		}
		run();
	}

	private void run() {
		LevelParticleFilter f = filter;
		int levels = values.length;
		// its own numbers, so that asking for an outlook does not change what the filter does next, and scenarios compare like with like
		XorShiftRandom noise = new XorShiftRandom(77 + from);
		DoseKind[] kinds = f.routines.keySet().toArray(DoseKind[]::new);
		double[][] rates = new double[kinds.length][levels + 1];
		boolean[][] used = new boolean[kinds.length][];
		int[] covered = new int[kinds.length];
		for (int k = 0; k < kinds.length; k++) {
			RoutineDosing routine = Objects.requireNonNull(f.routines.get(kinds[k]));
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
			Range range = f.pool.ranges().get(LevelParticleFilter.LEVELS.get(level));
			low[level] = (range != null) ? range.acceptableLow() : Double.NEGATIVE_INFINITY;
			high[level] = (range != null) ? range.acceptableHigh() : Double.POSITIVE_INFINITY;
		}
		int[] followed = java.util.stream.IntStream.range(0, levels).filter(level -> f.followed[level]).toArray();
		WaterBalance water = new WaterBalance(f.pool.autofill());
		double[] now = new double[levels];
		double[] untouched = new double[levels];
		double[] floater = new double[levels];
		int[] until = new int[kinds.length];
		double washRate = f.washRate();
		double[] perDay = new double[levels];
		double[] fill = new double[levels];
		double[] chlorinePerDay = new double[chlorine.length];
		double[] demands = f.weather.demand;
		double[] evaporations = f.weather.evaporation;
		double[] bathing = f.weather.bathing;
		double[] speeds = f.weather.breakdown;
		Double tabletsUpTo = f.pool.tabletCyaLimit();
		boolean plaster = f.pool.plaster() && f.pool.newPlaster();
		double[][] constants = f.constants;
		for (int i = 0; i < n; i++) {
			int p = of[i];
			water.depth = constants[LevelParticleFilter.DEPTH][p];
			water.height = f.height[p];
			water.room = constants[LevelParticleFilter.ROOM][p];
			double gain = constants[LevelParticleFilter.GAIN][p];
			double splash = constants[LevelParticleFilter.SPLASH][p];
			double leak = constants[LevelParticleFilter.LEAK][p] + washRate * constants[LevelParticleFilter.WASH][p];
			double evaporation = constants[LevelParticleFilter.EVAPORATION][p];
			double routine = noise.lognormal(1, ROUTINE_SPREAD);
			for (int k = 0; k < kinds.length; k++) {
				double last = noise.exponential(1 / GIVEN_UP);
				until[k] = used[k][p] ? (int) Math.min(days + 1, last) : -1;
			}
			for (int level : followed) {
				double normal = noise.normal();
				double spread = Math.sqrt(f.variance[level][p]);
				now[level] = Math.max(0, f.mean[level][p] + spread * normal);
				floater[level] = 0;
				if (f.floaterLevel[p] == level) {
					double with = f.floaterShared[p] / spread;
					floater[level] = Math.max(0, f.floaterMean[p] + with * normal
							+ Math.sqrt(Math.max(0, f.floaterVariance[p] - with * with)) * noise.normal());
				}
				values[level][0][i] = now[level];
				untouched[level] = now[level];
				leave(level, i, 0, now[level], low[level], high[level]);
			}
			double breakdown = constants[LevelParticleFilter.BREAKDOWN][p];
			double scaling = constants[LevelParticleFilter.SCALE][p];
			double[] rain = f.weather.rain[0];
			for (int level : followed) {
				fill[level] = constants[LevelParticleFilter.FILL + level][p];
			}
			// Where CYA stands above the end already and tablets go in all the same, they are not taken to stop.
			double stop = (tabletsUpTo != null && now[LevelParticleFilter.CYA] < tabletsUpTo) ? tabletsUpTo : Double.POSITIVE_INFINITY;
			double tablets = 0;
			int changes = 0;
			for (int d = 0, point = 1; d < days; d++) {
				int at = season[d];
				if (d % 7 == 0) {
					rain = f.weather.rain[LevelParticleFilter.rainScenario(i, (from + d) / 7 + 1000)];
				}
				if (d == changes) {
					changes = days;
					Arrays.fill(perDay, 0);
					Arrays.fill(chlorinePerDay, 0);
					double all = 0;
					tablets = 0;
					for (int k = 0; k < kinds.length; k++) {
						all += used[k][p] ? routine * rates[k][levels] : 0;
						if (d >= covered[k] && d < until[k]) {
							for (int level : followed) {
								perDay[level] += gain * routine * rates[k][level];
							}
							tablets += (kinds[k] == DoseKind.TABLETS) ? gain * routine * rates[k][LevelParticleFilter.CYA] : 0;
							chlorinePerDay[kinds[k].ordinal()] += routine * rates[k][levels];
							changes = Math.min(changes, until[k]);
						}
						else if (d < covered[k]) {
							changes = Math.min(changes, covered[k]);
						}
					}
					if (scenario != null) {
						changes = Math.min(changes, apply(d, (all > 0) ? all : routine * USUAL_CHLORINE / gain, gain, perDay,
								chlorinePerDay, fill, p));
						tablets = chlorineChanged(d) ? 0 : tablets;
					}
				}
				double demand = demands[at];
				if (scenario != null) {
					double drained = drained(d);
					for (int level : followed) {
						now[level] += drained * (fill[level] - now[level]);
					}
					for (int kind = 0; kind < chlorinePerDay.length; kind++) {
						chlorine[kind] += chlorinePerDay[kind] * demand / n;
					}
				}
				water.day(rain[at], evaporations[at] * evaporation, splash * bathing[at] + leak);
				if (scenario != null) {
					filled += (water.depth + water.height - water.left) / water.depth / n;
				}
				for (int level : followed) {
					double lost = (level == LevelParticleFilter.CYA) ? breakdown * speeds[at]
							: (level == LevelParticleFilter.CH) ? scaling : 0;
					double stopped = (level == LevelParticleFilter.CYA && now[level] >= stop) ? tablets : 0;
					double put = gain * recorded[level][d] + (perDay[level] - stopped) * demand;
					double own = floater[level] * demand
							+ ((plaster && level == LevelParticleFilter.CH) ? f.plaster(p, (int) (from - f.start) + d) : 0);
					double c = water.kept * keep(level, now[level], lost) + water.dosed * (put + own) + water.filled * fill[level];
					now[level] = c;
					untouched[level] = water.kept * keep(level, untouched[level], lost) + water.dosed * own + water.filled * fill[level];
					if (c < low[level] || c > high[level]) {
						leave(level, i, d + 1, c, low[level], high[level]);
					}
				}
				if (d + 1 == points[point]) {
					for (int level : followed) {
						values[level][point][i] = now[level];
					}
					point++;
				}
			}
			for (int level : followed) {
				alone[level][i] = untouched[level] - values[level][0][i];
			}
		}
	}

	/** What is left of a level. @param lost share broken down, or of what is above the level that scales */
	private static double keep(int level, double c, double lost) {
		return (level == LevelParticleFilter.CH) ? c - lost * Math.max(0, c - LevelParticleFilter.SCALING_FROM) : c * (1 - lost);
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

	/** What a scenario makes of the chlorine and the fill water on a day; returns the next day on which it changes something. */
	private int apply(int d, double all, double gain, double[] perDay, double[] chlorinePerDay, double[] fill, int p) {
		int next = days;
		for (Scenario.Change change : changes()) {
			int at = (int) Math.max(0, change.day() - from);
			if (at > d) {
				next = Math.min(next, at);
			}
			else if (change instanceof Scenario.Change.Product product) {
				chlorine(product.shares(), all, gain, perDay, chlorinePerDay);
			}
			else if (change instanceof Scenario.Change.Cell) {
				chlorine(Map.of(), all, gain, perDay, chlorinePerDay);
			}
			else if (change instanceof Scenario.Change.FillWater water) {
				water.levels().forEach((level, value) -> {
					int index = LevelParticleFilter.LEVELS.indexOf(level);
					if (index >= 0) {
						fill[index] = value;
					}
				});
			}
		}
		return next;
	}

	/** Whether other chlorine than the routine has been chosen for this day. */
	private boolean chlorineChanged(int d) {
		return changes().stream()
			.anyMatch(change -> change.day() - from <= d
					&& (change instanceof Scenario.Change.Product || change instanceof Scenario.Change.Cell));
	}

	/** All chlorine from these products instead of the routine; none of them where a cell makes it. */
	private static void chlorine(Map<DoseKind, Double> shares, double all, double gain, double[] perDay, double[] chlorinePerDay) {
		Arrays.fill(perDay, 0);
		Arrays.fill(chlorinePerDay, 0);
		shares.forEach((kind, share) -> {
			chlorinePerDay[kind.ordinal()] += share * all;
			for (int level = 0; level < perDay.length && kind.source() != null; level++) {
				perDay[level] += gain * share * all * LevelParticleFilter.per(kind.source(), level);
			}
		});
	}

	/** In order of their days. */
	private List<Scenario.Change> changes() {
		return (scenario != null) ? scenario.changes().stream().sorted(Comparator.comparingLong(Scenario.Change::day)).toList()
				: List.of();
	}

	private double drained(int d) {
		double kept = 1;
		for (Scenario.Change change : drains) {
			if (change instanceof Scenario.Change.PartialDrain drain && Math.max(0, drain.day() - from) == d) {
				kept *= 1 - drain.share();
			}
		}
		return 1 - kept;
	}

	/** @return null when the volume is not known */
	Scenario.@Nullable Cost cost(Scenario.Prices prices) {
		Double volume = filter.pool.volume();
		if (volume == null) {
			return null;
		}
		double chemicals = 0;
		for (DoseKind kind : DoseKind.values()) {
			// ppm of so many cubic metres are grams
			chemicals += chlorine[kind.ordinal()] * volume / 1000 * prices.chlorine().getOrDefault(kind, 0.0);
		}
		double water = filled;
		double equipment = 0;
		int visits = 0;
		for (Scenario.Change change : changes()) {
			if (change.day() - from > days) {
				continue;
			}
			if (change instanceof Scenario.Change.PartialDrain drain) {
				water += drain.share();
				visits++;
			}
			else if (change instanceof Scenario.Change.Cell cell) {
				equipment += cell.price();
			}
		}
		return new Scenario.Cost(chemicals, water * volume * prices.water(), visits * prices.visit(), equipment);
	}

	Band band(int level, int point) {
		Band band = band(values[level][point]);
		return new Band(Math.max(0, band.low()), band.middle(), band.high());
	}

	/** By how much a level moves by the last day if the service puts nothing in, ppm. */
	Band alone(int level) {
		return band(alone[level]);
	}

	int days() {
		return days;
	}

	private Band band(double[] alternatives) {
		double[] sorted = alternatives.clone();
		Arrays.sort(sorted);
		double mean = Arrays.stream(sorted).average().orElse(0);
		return Band.around(mean - WIDER * (mean - sorted[(int) (0.1 * n)]), mean, mean + WIDER * (sorted[(int) (0.9 * n)] - mean));
	}

	/** Values below which so much of the weight lies. */
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
	double left(int level, RangeEnd side, int days) {
		int count = 0;
		for (int exit : exits[level][side.ordinal()]) {
			if (exit <= days) {
				count++;
			}
		}
		return (double) count / n;
	}

	/** Days by which it has been left with the probability; null when not by the end of what was looked at. */
	@Nullable
	Integer leftBy(int level, RangeEnd side, double probability) {
		int[] sorted = exits[level][side.ordinal()].clone();
		Arrays.sort(sorted);
		int exit = sorted[Math.min(n - 1, (int) (probability * n))];
		return (exit == NEVER) ? null : Integer.valueOf(exit);
	}

}
