package org.meniscus.water.demand;

import java.util.List;

import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.NormalDistribution;

/**
 * Estimates a pool's {@link ChlorineDemand} from its visits, oldest first, by a Bayesian filter on a grid. The state is a logarithm: of
 * the pool's use against that of its kind, or, where a cell or an unrecorded feeder brings the chlorine, of the supply against the use,
 * with the use itself at three nodes besides, for a level that is held tells little of it. The state is a random walk. The use of each
 * week scatters by Student's t with 5 degrees of freedom, the scale of which is estimated along; one test in fifty is taken to be an
 * outlier. The likelihood is that of the whole equation, so a pool found empty says no more than "at least so much".
 */
public final class ChlorineDemandEstimator {

	private static final double GRID_START = -2.6;

	private static final double GRID_STEP = 0.08;

	private static final int NODES = 61;

	/** Scale of ln use of a week around the pool's own, with prior weights around 0.2; assumption. */
	private static final double[] WEEKLY_SCALES = { 0.08, 0.13, 0.2, 0.31, 0.48 };

	private static final double[] WEEKLY_PRIOR = { 0.1, 0.24, 0.32, 0.24, 0.1 };

	/** Of an unusual week; assumption. */
	private static final double UNUSUAL_SCALE = 1.2;

	private static final double DEGREES_OF_FREEDOM = 5;

	/** Standard deviations a week of the random walk of the pool's own use, and of a supply that somebody may turn; assumptions. */
	private static final double USE_RANDOM_WALK = 0.06;

	private static final double SUPPLY_RANDOM_WALK = 0.12;

	/** Relative standard deviation of what a dose brings against its label and measure. Common practice, no source. */
	private static final double DOSE_RELATIVE_DEVIATION = 0.07;

	private static final double OUTLIER_PROBABILITY = 0.02;

	/** Density of an outlier: uniform from 0 to 12 ppm. */
	private static final double OUTLIER_DENSITY = 1 / 12.0;

	/**
	 * S.d. of ln use by the weather of a coming interval outdoors: what is past is known at both ends, what comes only at its start.
	 * About 1.2 °C at twice the use each 8 °C; assumption.
	 */
	private static final double WEATHER_LOG_DEVIATION = 0.1;

	/** Relative standard deviation of what tablets or a cell of known output bring in a coming interval; assumption. */
	private static final double TABLET_RELATIVE_DEVIATION = 0.2;

	/** Number of newest intervals from which the supply by tablets is estimated. */
	private static final int TABLET_INTERVALS = 4;

	/** Ln use of a pool with unknown supply, in s.d. of its kind, with weights that give one s.d. in all. */
	private static final double[] USE_NODES = { -1.22, 0, 1.22 };

	private static final double[] USE_WEIGHTS = { 1 / 3.0, 1 / 3.0, 1 / 3.0 };

	/** Weeks of a pool with unknown supply are worked out at every third node up to 10 on either side. */
	private static final int WEEK_NODES = 10;

	private static final int WEEK_STRIDE = 3;

	private static final double NEGLIGIBLE = 1e-9;

	private static final double[][] KERNELS = kernels();

	private final PoolKind kind;

	private final boolean supplyUnknown;

	/** What a supply is measured by, ppm a day: the use at the level that is held, in the weather to come. */
	private final double heldUse;

	/** Probability of a node, for each use and width of the weeks. */
	private final double[][] posterior;

	private ChlorineDemandEstimator(PoolKind kind, boolean supplyUnknown, double heldUse) {
		this.kind = kind;
		this.supplyUnknown = supplyUnknown;
		this.heldUse = heldUse;
		this.posterior = new double[(supplyUnknown ? USE_NODES.length : 1) * WEEKLY_SCALES.length][NODES];
		double priorDeviation = supplyUnknown ? kind.supplyLogDeviation() : kind.useLogDeviation();
		for (int row = 0; row < posterior.length; row++) {
			double weight = WEEKLY_PRIOR[row % WEEKLY_SCALES.length] * (supplyUnknown ? USE_WEIGHTS[row / WEEKLY_SCALES.length] : 1);
			for (int node = 0; node < NODES; node++) {
				double z = logAt(node) / priorDeviation;
				posterior[row][node] = weight * Math.exp(-0.5 * z * z);
			}
		}
		normalize();
	}

	/**
	 * @param intervals of this pool, oldest first; none = what is expected of a pool of its kind
	 * @param celsius of the water in the coming interval
	 * @param cya in the coming interval, ppm
	 */
	public static ChlorineDemand of(PoolKind kind, List<DemandInterval> intervals, double celsius, double cya) {
		double heldUse = kind.firstOrderRate(celsius, cya) * PoolKind.HELD_FC + kind.zeroOrderRate(celsius);
		ChlorineDemandEstimator estimator = new ChlorineDemandEstimator(kind, estimatesSupply(kind, intervals), heldUse);
		for (DemandInterval interval : intervals) {
			estimator.randomWalk(interval.days());
			estimator.update(interval);
		}
		return estimator.predict(intervals, celsius, cya);
	}

	/** Whether chlorine comes from what nobody records, so that supply against use is what can be learnt. */
	public static boolean estimatesSupply(PoolKind kind, List<DemandInterval> intervals) {
		return (kind.feed() == PoolKind.Feed.CELL && kind.cellSupply() == null)
				|| (kind.feed() == PoolKind.Feed.TABLETS && intervals.stream().noneMatch(interval -> interval.tablets() > 0));
	}

	/** Standard deviation of FC just after dosing, ppm: test and measuring out. An error of the volume is estimated along with the use. */
	public static double startDeviation(double tested, double dosed) {
		return Math.hypot(TestPrecision.CHLORINE_TITRATION.standardDeviation(tested), DOSE_RELATIVE_DEVIATION * dosed);
	}

	/** Diffuses the posterior; in steps small enough for a three-point walk. */
	private void randomWalk(double days) {
		double week = supplyUnknown ? SUPPLY_RANDOM_WALK : USE_RANDOM_WALK;
		double variance = week * week * Math.min(days, 60) / 7;
		int steps = (int) Math.ceil(variance / (0.4 * GRID_STEP * GRID_STEP));
		double share = 0.5 * variance / steps / (GRID_STEP * GRID_STEP);
		for (double[] row : posterior) {
			for (int step = 0; step < steps; step++) {
				double before = row[0];
				for (int node = 0; node < NODES; node++) {
					double own = row[node];
					double after = row[Math.min(node + 1, NODES - 1)];
					row[node] = own + share * (before - 2 * own + after);
					before = own;
				}
			}
		}
	}

	private void update(DemandInterval interval) {
		if (supplyUnknown) {
			updateSupply(interval);
		}
		else {
			updateUse(interval);
		}
		normalize();
	}

	private void updateUse(DemandInterval interval) {
		double firstOrderRate = kind.firstOrderRate(interval.celsius(), interval.cya());
		double zeroOrderRate = kind.zeroOrderRate(interval.celsius());
		double[] likelihood = new double[NODES];
		for (int node = 0; node < NODES; node++) {
			likelihood[node] = likelihood(interval, firstOrderRate, zeroOrderRate, Math.exp(logAt(node)), 0);
		}
		for (int width = 0; width < WEEKLY_SCALES.length; width++) {
			double[] kernel = KERNELS[interval.unusual() ? WEEKLY_SCALES.length : width];
			for (int node = 0; node < NODES; node++) {
				double sum = 0;
				for (int week = 0; week < NODES; week++) {
					sum += kernel[week - node + NODES - 1] * likelihood[week];
				}
				posterior[width][node] *= sum;
			}
		}
	}

	private void updateSupply(DemandInterval interval) {
		double firstOrderRate = kind.firstOrderRate(interval.celsius(), interval.cya());
		double zeroOrderRate = kind.zeroOrderRate(interval.celsius());
		double[] likelihood = new double[2 * WEEK_NODES + 1];
		for (int use = 0; use < USE_NODES.length; use++) {
			double pool = Math.exp(kind.useLogDeviation() * USE_NODES[use]);
			for (int node = 0; node < NODES; node++) {
				if (negligible(use, node)) {
					continue;
				}
				double supply = pool * Math.exp(logAt(node)) * heldUse;
				for (int week = 0; week < likelihood.length; week++) {
					double factor = Math.exp(GRID_STEP * WEEK_STRIDE * (week - WEEK_NODES));
					likelihood[week] = likelihood(interval, firstOrderRate, zeroOrderRate, pool * factor, supply);
				}
				for (int width = 0; width < WEEKLY_SCALES.length; width++) {
					posterior[use * WEEKLY_SCALES.length + width][node] *= mean(KERNELS[interval.unusual() ? WEEKLY_SCALES.length : width],
							likelihood);
				}
			}
		}
	}

	private boolean negligible(int use, int node) {
		double sum = 0;
		for (int width = 0; width < WEEKLY_SCALES.length; width++) {
			sum += posterior[use * WEEKLY_SCALES.length + width][node];
		}
		return sum < NEGLIGIBLE;
	}

	/** Over the weeks, at the nodes looked at. */
	private static double mean(double[] kernel, double[] likelihood) {
		double sum = 0;
		double weight = 0;
		for (int week = 0; week < likelihood.length; week++) {
			double one = kernel[WEEK_STRIDE * (week - WEEK_NODES) + NODES - 1];
			sum += one * likelihood[week];
			weight += one;
		}
		return sum / weight;
	}

	/** Of FC found at the end, with so many times the use of its kind. @param supply ppm a day beside tablets */
	private static double likelihood(DemandInterval interval, double firstOrderRate, double zeroOrderRate, double use, double supply) {
		double rate = use * firstOrderRate;
		double net = supply + interval.tablets() / interval.days() - use * zeroOrderRate;
		double expected = ChlorineDemand.solution(interval.startFc(), interval.days(), rate, net);
		double test = TestPrecision.CHLORINE_TITRATION.variance(expected);
		double start = interval.startDeviation() * Math.exp(-rate * interval.days());
		double deviation = Math.sqrt(test + start * start);
		double z = (interval.endFc() - expected) / deviation;
		return (1 - OUTLIER_PROBABILITY) * Math.exp(-0.5 * z * z) / (deviation * Math.sqrt(2 * Math.PI))
				+ OUTLIER_PROBABILITY * OUTLIER_DENSITY;
	}

	private ChlorineDemand predict(List<DemandInterval> intervals, double celsius, double cya) {
		double[] own = new double[NODES];
		double[] alone = new double[2 * NODES - 1];
		double[] week = new double[NODES];
		double use = 0;
		for (int row = 0; row < posterior.length; row++) {
			double[] kernel = KERNELS[row % WEEKLY_SCALES.length];
			double sum = 0;
			for (int node = 0; node < NODES; node++) {
				own[node] += posterior[row][node];
				sum += posterior[row][node];
				for (int other = 0; other < NODES; other++) {
					week[other] += posterior[row][node] * kernel[other - node + NODES - 1];
				}
			}
			for (int n = 0; n < alone.length; n++) {
				alone[n] += sum * kernel[n];
			}
			use += supplyUnknown ? sum * kind.useLogDeviation() * USE_NODES[row / WEEKLY_SCALES.length] : 0;
		}
		double middle = quantile(own, 0.5, GRID_START);
		double firstOrderRate = kind.firstOrderRate(celsius, cya);
		double zeroOrderRate = kind.zeroOrderRate(celsius);
		double supplied = (kind.cellSupply() != null) ? kind.cellSupply() : tablets(intervals);
		double weather = (kind.spa() || kind.indoor()) ? 0 : WEATHER_LOG_DEVIATION;
		if (supplyUnknown) {
			double pool = Math.exp(use);
			double supply = pool * heldUse * Math.exp(middle);
			double supplyDeviation = supply * (1 - Math.exp(quantile(own, 0.1, GRID_START) - middle)) / NormalDistribution.Z80;
			double weekly = Math.hypot(weather, quantile(alone, 0.9, -GRID_STEP * (NODES - 1)) / NormalDistribution.Z80);
			return new ChlorineDemand(pool * firstOrderRate, pool * zeroOrderRate, supply, kind.useLogDeviation(), weekly, supplyDeviation,
					intervals.size());
		}
		double scale = Math.exp(middle);
		double standardError = (quantile(own, 0.9, GRID_START) - quantile(own, 0.1, GRID_START)) / (2 * NormalDistribution.Z80);
		double prediction = Math.hypot(weather, (quantile(week, 0.9, GRID_START) - middle) / NormalDistribution.Z80);
		return new ChlorineDemand(scale * firstOrderRate, scale * zeroOrderRate, supplied, standardError,
				Math.max(standardError, prediction), TABLET_RELATIVE_DEVIATION * supplied,
				intervals.size());
	}

	/** What recorded tablets brought lately, ppm a day. */
	private static double tablets(List<DemandInterval> intervals) {
		List<DemandInterval> newest = intervals.subList(Math.max(0, intervals.size() - TABLET_INTERVALS), intervals.size());
		double days = newest.stream().mapToDouble(DemandInterval::days).sum();
		return (days > 0) ? newest.stream().mapToDouble(DemandInterval::tablets).sum() / days : 0;
	}

	private void normalize() {
		double sum = 0;
		for (double[] row : posterior) {
			for (double one : row) {
				sum += one;
			}
		}
		for (double[] row : posterior) {
			for (int node = 0; node < NODES; node++) {
				row[node] /= sum;
			}
		}
	}

	/** Between nodes along the straight line of the sum. @param lowest where the first node is */
	private static double quantile(double[] probability, double share, double lowest) {
		double sum = 0;
		for (double one : probability) {
			sum += one;
		}
		double target = share * sum;
		double below = 0;
		for (int node = 0; node < probability.length; node++) {
			if (below + probability[node] >= target) {
				return lowest + GRID_STEP * (node - 0.5 + (target - below) / probability[node]);
			}
			below += probability[node];
		}
		return lowest + GRID_STEP * (probability.length - 1);
	}

	private static double logAt(int node) {
		return GRID_START + GRID_STEP * node;
	}

	/** Student's t over differences of nodes, each normed; the last for unusual weeks. */
	private static double[][] kernels() {
		double[][] kernels = new double[WEEKLY_SCALES.length + 1][2 * NODES - 1];
		for (int width = 0; width <= WEEKLY_SCALES.length; width++) {
			double scale = (width < WEEKLY_SCALES.length) ? WEEKLY_SCALES[width] : UNUSUAL_SCALE;
			double sum = 0;
			for (int n = 0; n < 2 * NODES - 1; n++) {
				double t = (n - NODES + 1) * GRID_STEP / scale;
				kernels[width][n] = Math.pow(1 + t * t / DEGREES_OF_FREEDOM, -0.5 * (DEGREES_OF_FREEDOM + 1));
				sum += kernels[width][n];
			}
			for (int n = 0; n < 2 * NODES - 1; n++) {
				kernels[width][n] /= sum;
			}
		}
		return kernels;
	}

}
