package org.meniscus.water.demand;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Learns a pool's {@link PhDrift} from its newest visits: a grid over the rate of exchange with air and the drift that the model does
 * not tell, with Student's t so that one odd test does not carry it.
 */
public final class PhDriftEstimator {

	/** So many of the newest intervals count; what a pool did before says little of now. */
	private static final int NEWEST = 12;

	/** Usual exchange, 1/day: pH 7.5 rises by about 0.2 a week at TA 100. Common practice, no source; factors are assumptions. */
	private static final double EXCHANGE = 0.12;

	private static final double CELL_FACTOR = 2;

	private static final double SPA_FACTOR = 3;

	private static final double INDOOR_FACTOR = 0.7;

	/** S.d. of ln exchange among pools of a kind; assumption. */
	private static final double DOUBT = 0.6;

	/** S.d. of the unexplained drift among pools, pH a week; assumption. */
	private static final double UNEXPLAINED = 0.08;

	/** S.d. of what is found around what is expected: two tests in steps of 0.1, and the weather. Counts as so many intervals. */
	private static final double SCATTER = 0.15;

	private static final int SCATTER_WORTH = 6;

	private static final double DEGREES = 4;

	/** Nodes of ln exchange at which the model is worked out, in prior s.d.; between them along a parabola. */
	private static final double[] NODES = { -2, 0, 2 };

	/** Places looked at, over all nodes. */
	private static final int FINE = 33;

	private static final double STEP = (NODES[2] - NODES[0]) / (FINE - 1);

	private static final int DRIFTS = 13;

	private PhDriftEstimator() {
	}

	/**
	 * @param intervals of this pool, oldest first; none = what is expected of a pool of its kind
	 * @param tablets FC that dissolving tablets will bring, ppm a day
	 */
	public static PhDrift of(PoolKind kind, List<PhInterval> intervals, double tablets) {
		double usual = usual(kind);
		List<double[]> residuals = new ArrayList<>();
		List<Double> weeks = new ArrayList<>();
		for (PhInterval interval : intervals.subList(Math.max(0, intervals.size() - NEWEST), intervals.size())) {
			double[] residual = residuals(interval, usual);
			if (residual != null) {
				residuals.add(residual);
				weeks.add(interval.days() / 7);
			}
		}
		return fit(usual, residuals, weeks, tablets);
	}

	private static double usual(PoolKind kind) {
		double factor = kind.spa() ? SPA_FACTOR : kind.indoor() ? INDOOR_FACTOR : 1;
		return EXCHANGE * factor * ((kind.feed() == PoolKind.Feed.CELL) ? CELL_FACTOR : 1);
	}

	/** Found less expected at each node; null where the readings contradict each other or lead out of the range of a water. */
	private static double @Nullable [] residuals(PhInterval interval, double usual) {
		double[] residuals = new double[NODES.length];
		try {
			for (int node = 0; node < NODES.length; node++) {
				residuals[node] = interval.found() - PhDrift.carried(interval.start(), interval.fcFall(),
						interval.tablets() / interval.days(), interval.days(), usual * Math.exp(DOUBT * NODES[node]))
					.ph();
			}
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
		return residuals;
	}

	private static PhDrift fit(double usual, List<double[]> residuals, List<Double> weeks, double tablets) {
		double sum = 0;
		double mean = 0;
		double square = 0;
		double drift = 0;
		for (int n = 0; n < FINE; n++) {
			double z = NODES[0] + n * STEP;
			for (int d = 0; d < DRIFTS; d++) {
				double weekly = 3 * UNEXPLAINED * (2.0 * d / (DRIFTS - 1) - 1);
				double log = -0.5 * z * z - 0.5 * Math.pow(weekly / UNEXPLAINED, 2);
				for (int i = 0; i < residuals.size(); i++) {
					double t = (at(residuals.get(i), n) - weekly * weeks.get(i)) / SCATTER;
					log -= 0.5 * (DEGREES + 1) * Math.log(1 + t * t / DEGREES);
				}
				double weight = Math.exp(log);
				sum += weight;
				mean += weight * z;
				square += weight * z * z;
				drift += weight * weekly;
			}
		}
		mean /= sum;
		drift /= sum;
		double doubt = Math.sqrt(Math.max(0, square / sum - mean * mean));
		return new PhDrift(usual * Math.exp(DOUBT * mean), DOUBT * doubt, drift, scatter(residuals, weeks, mean, drift), tablets,
				residuals.size());
	}

	/** Of the residuals, drawn toward the usual; one that is far out counts as three s.d. */
	private static double scatter(List<double[]> residuals, List<Double> weeks, double mean, double drift) {
		double squares = SCATTER_WORTH * SCATTER * SCATTER;
		int place = (int) Math.round((mean - NODES[0]) / STEP);
		for (int i = 0; i < residuals.size(); i++) {
			double residual = Math.min(3 * SCATTER, Math.abs(at(residuals.get(i), place) - drift * weeks.get(i)));
			squares += residual * residual;
		}
		return Math.sqrt(squares / (SCATTER_WORTH + residuals.size()));
	}

	private static double at(double[] nodes, int place) {
		double z = NODES[0] + place * STEP;
		double half = NODES[2];
		double slope = (nodes[2] - nodes[0]) / (2 * half);
		double bend = (nodes[2] - 2 * nodes[1] + nodes[0]) / (2 * half * half);
		return nodes[1] + z * (slope + z * bend);
	}

}
