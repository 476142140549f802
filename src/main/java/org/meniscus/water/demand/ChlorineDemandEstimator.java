package org.meniscus.water.demand;

import java.util.List;

import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.NormalDistribution;

/**
 * Learns a pool's {@link ChlorineDemand} from its visits, oldest first, by a filter on a grid. Unknown is a logarithm: of the pool's use against
 * that of its kind, or, where a cell or an unrecorded feeder brings the chlorine, of the supply against the use, and the use itself
 * besides in three steps, for a level that is held tells little of it. The unknown wanders slowly. The use of each week scatters by
 * Student's t with 5 degrees of freedom, the width of which is learnt along; one test in fifty is taken to be a gross error. What was
 * found is compared with what the whole equation leaves, so a pool found empty says no more than "at least so much".
 */
public final class ChlorineDemandEstimator {

	private static final double LOWEST = -2.6;

	private static final double STEP = 0.08;

	private static final int NODES = 61;

	/** Scale of ln use of a week around the pool's own, with prior weights around 0.2; assumption. */
	private static final double[] WEEKLY = { 0.08, 0.13, 0.2, 0.31, 0.48 };

	private static final double[] WEEKLY_WEIGHT = { 0.1, 0.24, 0.32, 0.24, 0.1 };

	/** Of an unusual week; assumption. */
	private static final double UNUSUAL = 1.2;

	private static final double DEGREES = 5;

	/** S.d. a week with which the pool's own use wanders, and a supply that somebody may turn; assumptions. */
	private static final double WANDER = 0.06;

	private static final double SUPPLY_WANDER = 0.12;

	/** What a dose brings against its label and measure. Common practice, no source. */
	private static final double DOSE_SHARE = 0.07;

	private static final double GROSS_SHARE = 0.02;

	/** Density of a gross error: anywhere from 0 to 12 ppm. */
	private static final double GROSS_DENSITY = 1 / 12.0;

	/**
	 * S.d. of ln use by the weather of a coming interval outdoors: what is past is known at both ends, what comes only at its start.
	 * About 1.2 °C at twice the use each 8 °C; assumption.
	 */
	private static final double WEATHER = 0.1;

	/** What tablets bring in a coming interval is not known better than so; assumption. */
	private static final double TABLET_SPREAD = 0.2;

	/** So many of the newest intervals tell what tablets bring. */
	private static final int TABLETS_FROM = 4;

	/** Ln use of a pool with unknown supply, in s.d. of its kind, with weights that give one s.d. in all. */
	private static final double[] USES = { -1.22, 0, 1.22 };

	private static final double[] USE_WEIGHT = { 1 / 3.0, 1 / 3.0, 1 / 3.0 };

	/** Weeks of a pool with unknown supply are worked out at every third node up to 10 on either side. */
	private static final int WEEK_NODES = 10;

	private static final int WEEK_STRIDE = 3;

	private static final double NEGLIGIBLE = 1e-9;

	private static final double[][] KERNELS = kernels();

	private final PoolKind kind;

	private final boolean supplyUnknown;

	/** What a supply is measured by, ppm a day: the use at the level that is held, in the weather to come. */
	private final double held;

	/** Probability of a node, for each use and width of the weeks. */
	private final double[][] belief;

	private ChlorineDemandEstimator(PoolKind kind, boolean supplyUnknown, double held) {
		this.kind = kind;
		this.supplyUnknown = supplyUnknown;
		this.held = held;
		this.belief = new double[(supplyUnknown ? USES.length : 1) * WEEKLY.length][NODES];
		double doubt = supplyUnknown ? kind.supplyDoubt() : kind.doubt();
		for (int row = 0; row < belief.length; row++) {
			double weight = WEEKLY_WEIGHT[row % WEEKLY.length] * (supplyUnknown ? USE_WEIGHT[row / WEEKLY.length] : 1);
			for (int node = 0; node < NODES; node++) {
				double z = at(node) / doubt;
				belief[row][node] = weight * Math.exp(-0.5 * z * z);
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
		double held = kind.proportional(celsius, cya) * PoolKind.HELD_FC + kind.constant(celsius);
		ChlorineDemandEstimator estimate = new ChlorineDemandEstimator(kind, learnsSupply(kind, intervals), held);
		for (DemandInterval interval : intervals) {
			estimate.wander(interval.days());
			estimate.learn(interval);
		}
		return estimate.coming(intervals, celsius, cya);
	}

	/** Whether chlorine comes from what nobody records, so that supply against use is what can be learnt. */
	public static boolean learnsSupply(PoolKind kind, List<DemandInterval> intervals) {
		return kind.feed() == PoolKind.Feed.CELL
				|| (kind.feed() == PoolKind.Feed.TABLETS && intervals.stream().noneMatch(interval -> interval.tablets() > 0));
	}

	/** S.d. of FC just after dosing, ppm: test and measuring out. An error of the volume is learnt along with the use. */
	public static double startDoubt(double tested, double dosed) {
		return Math.hypot(TestPrecision.CHLORINE_TITRATION.standardDeviation(tested), DOSE_SHARE * dosed);
	}

	/** Spreads the belief; in steps small enough for a three-point walk. */
	private void wander(double days) {
		double week = supplyUnknown ? SUPPLY_WANDER : WANDER;
		double variance = week * week * Math.min(days, 60) / 7;
		int steps = (int) Math.ceil(variance / (0.4 * STEP * STEP));
		double share = 0.5 * variance / steps / (STEP * STEP);
		for (double[] row : belief) {
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

	private void learn(DemandInterval interval) {
		if (supplyUnknown) {
			learnSupply(interval);
		}
		else {
			learnUse(interval);
		}
		normalize();
	}

	private void learnUse(DemandInterval interval) {
		double proportional = kind.proportional(interval.celsius(), interval.cya());
		double constant = kind.constant(interval.celsius());
		double[] likelihood = new double[NODES];
		for (int node = 0; node < NODES; node++) {
			likelihood[node] = likelihood(interval, proportional, constant, Math.exp(at(node)), 0);
		}
		for (int width = 0; width < WEEKLY.length; width++) {
			double[] kernel = KERNELS[interval.unusual() ? WEEKLY.length : width];
			for (int node = 0; node < NODES; node++) {
				double sum = 0;
				for (int week = 0; week < NODES; week++) {
					sum += kernel[week - node + NODES - 1] * likelihood[week];
				}
				belief[width][node] *= sum;
			}
		}
	}

	private void learnSupply(DemandInterval interval) {
		double proportional = kind.proportional(interval.celsius(), interval.cya());
		double constant = kind.constant(interval.celsius());
		double[] likelihood = new double[2 * WEEK_NODES + 1];
		for (int use = 0; use < USES.length; use++) {
			double pool = Math.exp(kind.doubt() * USES[use]);
			for (int node = 0; node < NODES; node++) {
				if (negligible(use, node)) {
					continue;
				}
				double supply = pool * Math.exp(at(node)) * held;
				for (int week = 0; week < likelihood.length; week++) {
					double factor = Math.exp(STEP * WEEK_STRIDE * (week - WEEK_NODES));
					likelihood[week] = likelihood(interval, proportional, constant, pool * factor, supply);
				}
				for (int width = 0; width < WEEKLY.length; width++) {
					belief[use * WEEKLY.length + width][node] *= mean(KERNELS[interval.unusual() ? WEEKLY.length : width], likelihood);
				}
			}
		}
	}

	private boolean negligible(int use, int node) {
		double sum = 0;
		for (int width = 0; width < WEEKLY.length; width++) {
			sum += belief[use * WEEKLY.length + width][node];
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

	/** How probable what was found is, with so many times the use of its kind. @param supply ppm a day beside tablets */
	private static double likelihood(DemandInterval interval, double proportional, double constant, double use, double supply) {
		double rate = use * proportional;
		double net = supply + interval.tablets() / interval.days() - use * constant;
		double expected = ChlorineDemand.solution(interval.left(), interval.days(), rate, net);
		double test = TestPrecision.CHLORINE_TITRATION.variance(expected);
		double start = interval.leftDoubt() * Math.exp(-rate * interval.days());
		double doubt = Math.sqrt(test + start * start);
		double z = (interval.found() - expected) / doubt;
		return (1 - GROSS_SHARE) * Math.exp(-0.5 * z * z) / (doubt * Math.sqrt(2 * Math.PI)) + GROSS_SHARE * GROSS_DENSITY;
	}

	private ChlorineDemand coming(List<DemandInterval> intervals, double celsius, double cya) {
		double[] own = new double[NODES];
		double[] alone = new double[2 * NODES - 1];
		double[] week = new double[NODES];
		double use = 0;
		for (int row = 0; row < belief.length; row++) {
			double[] kernel = KERNELS[row % WEEKLY.length];
			double sum = 0;
			for (int node = 0; node < NODES; node++) {
				own[node] += belief[row][node];
				sum += belief[row][node];
				for (int other = 0; other < NODES; other++) {
					week[other] += belief[row][node] * kernel[other - node + NODES - 1];
				}
			}
			for (int n = 0; n < alone.length; n++) {
				alone[n] += sum * kernel[n];
			}
			use += supplyUnknown ? sum * kind.doubt() * USES[row / WEEKLY.length] : 0;
		}
		double middle = quantile(own, 0.5, LOWEST);
		double proportional = kind.proportional(celsius, cya);
		double constant = kind.constant(celsius);
		double tablets = tablets(intervals);
		double weather = (kind.spa() || kind.indoor()) ? 0 : WEATHER;
		if (supplyUnknown) {
			double pool = Math.exp(use);
			double supply = pool * held * Math.exp(middle);
			double supplySpread = supply * (1 - Math.exp(quantile(own, 0.1, LOWEST) - middle)) / NormalDistribution.Z80;
			double weekly = Math.hypot(weather, quantile(alone, 0.9, -STEP * (NODES - 1)) / NormalDistribution.Z80);
			return new ChlorineDemand(pool * proportional, pool * constant, supply, kind.doubt(), weekly, supplySpread, intervals.size());
		}
		double scale = Math.exp(middle);
		double doubt = (quantile(own, 0.9, LOWEST) - quantile(own, 0.1, LOWEST)) / (2 * NormalDistribution.Z80);
		double spread = Math.hypot(weather, (quantile(week, 0.9, LOWEST) - middle) / NormalDistribution.Z80);
		return new ChlorineDemand(scale * proportional, scale * constant, tablets, doubt, Math.max(doubt, spread), TABLET_SPREAD * tablets,
				intervals.size());
	}

	/** What recorded tablets brought lately, ppm a day. */
	private static double tablets(List<DemandInterval> intervals) {
		List<DemandInterval> newest = intervals.subList(Math.max(0, intervals.size() - TABLETS_FROM), intervals.size());
		double days = newest.stream().mapToDouble(DemandInterval::days).sum();
		return (days > 0) ? newest.stream().mapToDouble(DemandInterval::tablets).sum() / days : 0;
	}

	private void normalize() {
		double sum = 0;
		for (double[] row : belief) {
			for (double one : row) {
				sum += one;
			}
		}
		for (double[] row : belief) {
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
		double wanted = share * sum;
		double below = 0;
		for (int node = 0; node < probability.length; node++) {
			if (below + probability[node] >= wanted) {
				return lowest + STEP * (node - 0.5 + (wanted - below) / probability[node]);
			}
			below += probability[node];
		}
		return lowest + STEP * (probability.length - 1);
	}

	private static double at(int node) {
		return LOWEST + STEP * node;
	}

	/** Student's t over differences of nodes, each normed; the last for unusual weeks. */
	private static double[][] kernels() {
		double[][] kernels = new double[WEEKLY.length + 1][2 * NODES - 1];
		for (int width = 0; width <= WEEKLY.length; width++) {
			double scale = (width < WEEKLY.length) ? WEEKLY[width] : UNUSUAL;
			double sum = 0;
			for (int n = 0; n < 2 * NODES - 1; n++) {
				double t = (n - NODES + 1) * STEP / scale;
				kernels[width][n] = Math.pow(1 + t * t / DEGREES, -0.5 * (DEGREES + 1));
				sum += kernels[width][n];
			}
			for (int n = 0; n < 2 * NODES - 1; n++) {
				kernels[width][n] /= sum;
			}
		}
		return kernels;
	}

}
