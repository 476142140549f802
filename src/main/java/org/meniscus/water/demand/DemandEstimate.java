package org.meniscus.water.demand;

import java.util.List;

/**
 * Learns a pool's {@link Demand} from its visits, oldest first, by a filter on a grid. Unknown is one logarithm: of the pool's use
 * against that of its kind, or, where a cell or an unrecorded feeder brings the chlorine, of the supply (a held level tells only how
 * supply stands to use). It wanders slowly; each week scatters around it by Student's t with 5 degrees of freedom, the width of which
 * is learnt along; one test in fifty is taken to be a gross error. What was found is compared with what the whole equation leaves, so
 * a pool found empty says no more than "at least so much".
 */
public final class DemandEstimate {

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

	/** Drop test of FC: 6 % and 0.15 ppm, with drops of 0.2 or 0.5 ppm. Common practice, no source. */
	private static final double TEST_SHARE = 0.06;

	private static final double TEST_PPM = 0.15;

	private static final double GROSS_SHARE = 0.02;

	/** Density of a gross error: anywhere from 0 to 12 ppm. */
	private static final double GROSS_DENSITY = 1 / 12.0;

	/** What tablets bring in a coming interval is not known better than so; assumption. */
	private static final double TABLET_SPREAD = 0.2;

	/** So many of the newest intervals tell what tablets bring. */
	private static final int TABLETS_FROM = 4;

	private static final double[][] KERNELS = kernels();

	private final PoolKind kind;

	private final boolean supplyUnknown;

	/** Probability of a node, for each width of the weeks. */
	private final double[][] belief = new double[WEEKLY.length][NODES];

	private DemandEstimate(PoolKind kind, boolean supplyUnknown) {
		this.kind = kind;
		this.supplyUnknown = supplyUnknown;
		double doubt = supplyUnknown ? kind.supplyDoubt() : kind.doubt();
		for (int width = 0; width < WEEKLY.length; width++) {
			for (int node = 0; node < NODES; node++) {
				double z = at(node) / doubt;
				belief[width][node] = WEEKLY_WEIGHT[width] * Math.exp(-0.5 * z * z);
			}
		}
		normalize();
	}

	/**
	 * @param intervals of this pool, oldest first; none = what is expected of a pool of its kind
	 * @param celsius of the water in the coming interval
	 * @param cya in the coming interval, ppm
	 */
	public static Demand of(PoolKind kind, List<Interval> intervals, double celsius, double cya) {
		boolean recorded = intervals.stream().anyMatch(interval -> interval.tablets() > 0);
		boolean supplyUnknown = kind.feed() == PoolKind.Feed.CELL || (kind.feed() == PoolKind.Feed.TABLETS && !recorded);
		DemandEstimate estimate = new DemandEstimate(kind, supplyUnknown);
		for (Interval interval : intervals) {
			estimate.wander(interval.days());
			estimate.learn(interval);
		}
		return estimate.coming(intervals, celsius, cya);
	}

	/** S.d. of one FC test, ppm. Common practice, no source. */
	public static double testDoubt(double fc) {
		double share = TEST_SHARE * fc;
		return Math.sqrt(share * share + TEST_PPM * TEST_PPM);
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

	private void learn(Interval interval) {
		double[] likelihood = likelihood(interval);
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
		normalize();
	}

	/** How probable what was found is, for each node as that interval's own. */
	private double[] likelihood(Interval interval) {
		double proportional = kind.proportional(interval.celsius(), interval.cya());
		double constant = kind.constant(interval.celsius());
		double tablets = interval.tablets() / interval.days();
		double[] likelihood = new double[NODES];
		for (int node = 0; node < NODES; node++) {
			double factor = Math.exp(at(node));
			double use = supplyUnknown ? 1 : factor;
			double supply = tablets + (supplyUnknown ? factor * held(proportional, constant) : 0);
			Demand one = Demand.exactly(use * proportional, use * constant, supply);
			double expected = one.expected(interval.left(), interval.days());
			double test = testDoubt(expected);
			double start = interval.leftDoubt() * Math.exp(-use * proportional * interval.days());
			double doubt = Math.sqrt(test * test + start * start);
			double z = (interval.found() - expected) / doubt;
			likelihood[node] = (1 - GROSS_SHARE) * Math.exp(-0.5 * z * z) / (doubt * Math.sqrt(2 * Math.PI)) + GROSS_SHARE * GROSS_DENSITY;
		}
		return likelihood;
	}

	/** Use at the level a cell or feeder is set to hold, ppm a day. */
	private static double held(double proportional, double constant) {
		return proportional * PoolKind.HELD_FC + constant;
	}

	private Demand coming(List<Interval> intervals, double celsius, double cya) {
		double[] own = new double[NODES];
		double[] week = new double[NODES];
		for (int width = 0; width < WEEKLY.length; width++) {
			for (int node = 0; node < NODES; node++) {
				own[node] += belief[width][node];
				for (int other = 0; other < NODES; other++) {
					week[other] += belief[width][node] * KERNELS[width][other - node + NODES - 1];
				}
			}
		}
		double middle = quantile(own, 0.5);
		double proportional = kind.proportional(celsius, cya);
		double constant = kind.constant(celsius);
		double tablets = tablets(intervals);
		if (supplyUnknown) {
			// More use or less supply: what is doubtful of either is counted once, in the supply, and on the side where less is left.
			double supply = held(proportional, constant) * Math.exp(middle);
			double spread = (1 - Math.exp(quantile(week, 0.1) - middle)) / Demand.Z80;
			return new Demand(proportional, constant, supply + tablets, kind.doubt(), 0, spread * supply, intervals.size());
		}
		double scale = Math.exp(middle);
		double doubt = (quantile(own, 0.9) - quantile(own, 0.1)) / (2 * Demand.Z80);
		double spread = (quantile(week, 0.9) - middle) / Demand.Z80;
		return new Demand(scale * proportional, scale * constant, tablets, doubt, Math.max(doubt, spread), TABLET_SPREAD * tablets,
				intervals.size());
	}

	/** What recorded tablets brought lately, ppm a day. */
	private static double tablets(List<Interval> intervals) {
		List<Interval> newest = intervals.subList(Math.max(0, intervals.size() - TABLETS_FROM), intervals.size());
		double days = newest.stream().mapToDouble(Interval::days).sum();
		return (days > 0) ? newest.stream().mapToDouble(Interval::tablets).sum() / days : 0;
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

	/** Between nodes along the straight line of the sum. */
	private static double quantile(double[] probability, double share) {
		double sum = 0;
		for (double one : probability) {
			sum += one;
		}
		double wanted = share * sum;
		double below = 0;
		for (int node = 0; node < NODES; node++) {
			if (below + probability[node] >= wanted) {
				return at(node) - 0.5 * STEP + STEP * (wanted - below) / probability[node];
			}
			below += probability[node];
		}
		return at(NODES - 1);
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
