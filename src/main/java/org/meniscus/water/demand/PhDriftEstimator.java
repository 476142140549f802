package org.meniscus.water.demand;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Estimates a pool's {@link PhDrift} from its newest visits: posterior mean over a grid of the rate of exchange with air and the drift
 * that the model does not explain, with Student's t likelihood so that one odd test does not carry it.
 */
public final class PhDriftEstimator {

	/** So many of the newest intervals count; what a pool did before says little of now. */
	private static final int MOST_INTERVALS = 12;

	/** Usual exchange, 1/day: pH 7.5 rises by about 0.2 a week at TA 100. Common practice, no source; factors are assumptions. */
	private static final double PRIOR_EXCHANGE_RATE = 0.12;

	private static final double CELL_FACTOR = 2;

	private static final double SPA_FACTOR = 3;

	private static final double INDOOR_FACTOR = 0.7;

	/** Standard deviation of ln exchange rate among pools of a kind; assumption. */
	private static final double EXCHANGE_LOG_DEVIATION = 0.6;

	/** Standard deviation of the unexplained drift among pools, pH a week; assumption. */
	private static final double UNEXPLAINED_DEVIATION = 0.08;

	/** Prior standard deviation of a residual: two tests in steps of 0.1, and the weather. Counts as so many intervals. */
	private static final double RESIDUAL_DEVIATION = 0.15;

	private static final int RESIDUAL_PRIOR_INTERVALS = 6;

	private static final double DEGREES_OF_FREEDOM = 4;

	/** Nodes of ln exchange at which the model is worked out, in prior standard deviations; between them a parabola. */
	private static final double[] NODES = { -2, 0, 2 };

	/** Points of the grid of the exchange rate, over all nodes. */
	private static final int EXCHANGE_NODES = 33;

	private static final double STEP = (NODES[2] - NODES[0]) / (EXCHANGE_NODES - 1);

	private static final int DRIFT_NODES = 13;

	private PhDriftEstimator() {
	}

	/**
	 * @param intervals of this pool, oldest first; none = what is expected of a pool of its kind
	 * @param tablets FC that dissolving tablets will bring, ppm a day
	 */
	public static PhDrift of(PoolKind kind, List<PhInterval> intervals, double tablets) {
		double priorRate = priorExchangeRate(kind);
		List<double[]> residuals = new ArrayList<>();
		List<Double> weeks = new ArrayList<>();
		for (PhInterval interval : intervals.subList(Math.max(0, intervals.size() - MOST_INTERVALS), intervals.size())) {
			double[] residual = residuals(interval, priorRate);
			if (residual != null) {
				residuals.add(residual);
				weeks.add(interval.days() / 7);
			}
		}
		return fit(priorRate, residuals, weeks, tablets);
	}

	private static double priorExchangeRate(PoolKind kind) {
		double factor = kind.spa() ? SPA_FACTOR : kind.indoor() ? INDOOR_FACTOR : 1;
		return PRIOR_EXCHANGE_RATE * factor * ((kind.feed() == PoolKind.Feed.CELL) ? CELL_FACTOR : 1);
	}

	/** Found less expected at each node; null where the readings contradict each other. */
	private static double @Nullable [] residuals(PhInterval interval, double priorRate) {
		double tabletsPerDay = interval.tablets() / interval.days();
		if (!PhDrift.isPossible(interval.start(), interval.fcFall(), tabletsPerDay, interval.days())) {
			return null;
		}
		double[] residuals = new double[NODES.length];
		for (int node = 0; node < NODES.length; node++) {
			residuals[node] = interval.endPh() - PhDrift.integrate(interval.start(), interval.fcFall(), tabletsPerDay, interval.days(),
					priorRate * Math.exp(EXCHANGE_LOG_DEVIATION * NODES[node]))
				.ph();
		}
		return residuals;
	}

	private static PhDrift fit(double priorRate, List<double[]> residuals, List<Double> weeks, double tablets) {
		double sum = 0;
		double mean = 0;
		double square = 0;
		double drift = 0;
		for (int n = 0; n < EXCHANGE_NODES; n++) {
			double z = NODES[0] + n * STEP;
			for (int d = 0; d < DRIFT_NODES; d++) {
				double weekly = 3 * UNEXPLAINED_DEVIATION * (2.0 * d / (DRIFT_NODES - 1) - 1);
				double log = -0.5 * z * z - 0.5 * Math.pow(weekly / UNEXPLAINED_DEVIATION, 2);
				for (int i = 0; i < residuals.size(); i++) {
					double t = (interpolate(residuals.get(i), n) - weekly * weeks.get(i)) / RESIDUAL_DEVIATION;
					log -= 0.5 * (DEGREES_OF_FREEDOM + 1) * Math.log(1 + t * t / DEGREES_OF_FREEDOM);
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
		double posteriorDeviation = Math.sqrt(Math.max(0, square / sum - mean * mean));
		return new PhDrift(priorRate * Math.exp(EXCHANGE_LOG_DEVIATION * mean), EXCHANGE_LOG_DEVIATION * posteriorDeviation, drift,
				residualDeviation(residuals, weeks, mean, drift), tablets,
				residuals.size());
	}

	/** Of the residuals, shrunk toward the prior; an outlier counts as three standard deviations. */
	private static double residualDeviation(List<double[]> residuals, List<Double> weeks, double mean, double drift) {
		double sumOfSquares = RESIDUAL_PRIOR_INTERVALS * RESIDUAL_DEVIATION * RESIDUAL_DEVIATION;
		int point = (int) Math.round((mean - NODES[0]) / STEP);
		for (int i = 0; i < residuals.size(); i++) {
			double residual = Math.min(3 * RESIDUAL_DEVIATION, Math.abs(interpolate(residuals.get(i), point) - drift * weeks.get(i)));
			sumOfSquares += residual * residual;
		}
		return Math.sqrt(sumOfSquares / (RESIDUAL_PRIOR_INTERVALS + residuals.size()));
	}

	private static double interpolate(double[] nodes, int point) {
		double z = NODES[0] + point * STEP;
		double half = NODES[2];
		double slope = (nodes[2] - nodes[0]) / (2 * half);
		double curvature = (nodes[2] - 2 * nodes[1] + nodes[0]) / (2 * half * half);
		return nodes[1] + z * (slope + z * curvature);
	}

}
