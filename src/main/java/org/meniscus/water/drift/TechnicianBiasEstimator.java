package org.meniscus.water.drift;

import java.util.Comparator;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;

import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;

/**
 * Estimates each technician's bias from the readings at all pools so far: the prior times one normal likelihood from each pool. A pool is
 * given what the others say, never its own likelihood again. Add and ask in order of date; not for use by several threads.
 */
public final class TechnicianBiasEstimator {

	/** No bias is known better than this share of its prior spread: pools of one technician share errors of the model. Assumption. */
	private static final double MIN_SPREAD_RATIO = 0.3;

	/** A pool's likelihood counts so much: its other parameters are estimated from the same readings. Assumption. */
	private static final double LIKELIHOOD_WEIGHT = 1;

	private static final Map<Level, Double> PRIOR_DEVIATION = Map.of(Level.CYA, TestPrecision.PHOTOMETER.bias(), Level.CH,
			TestPrecision.titration(10).bias());

	/** Precision, and precision times mean, by pool. */
	private final Map<TechnicianBias.Key, Map<WalkForward, double[]>> likelihoods = new HashMap<>();

	void add(WalkForward pool, TechnicianBias.Key key, double[] likelihood) {
		if (PRIOR_DEVIATION.containsKey(key.level())) {
			likelihoods.computeIfAbsent(key, any -> new IdentityHashMap<>()).put(pool, likelihood);
		}
	}

	/**
	 * For a pool: what all the others say. Only differences between technicians count: what all of them seem to read too high or too low is
	 * as likely an error of the model that all pools share.
	 */
	public TechnicianBias excluding(WalkForward pool) {
		Map<TechnicianBias.Key, double[]> sums = new HashMap<>();
		likelihoods.forEach((key, byPool) -> sums.put(key, sum(byPool, pool)));
		Map<TechnicianBias.Key, TechnicianBias.Estimate> estimates = new HashMap<>();
		PRIOR_DEVIATION.forEach((level, prior) -> {
			List<Map.Entry<TechnicianBias.Key, double[]>> ofLevel = sums.entrySet().stream()
				.filter(entry -> entry.getKey().level() == level)
				.sorted(Comparator.comparing(entry -> entry.getKey().technician())).toList();
			double common = common(ofLevel.stream().map(Map.Entry::getValue).toList(), prior);
			ofLevel.forEach(entry -> {
				double[] sum = entry.getValue();
				double precision = 1 / (prior * prior) + sum[0];
				estimates.put(entry.getKey(), new TechnicianBias.Estimate((sum[1] - sum[0] * common) / precision,
						Math.max(MIN_SPREAD_RATIO * prior, 1 / Math.sqrt(precision))));
			});
		});
		return new TechnicianBias(estimates);
	}

	/** Precision, and precision times mean, of all pools but one. */
	private static double[] sum(Map<WalkForward, double[]> byPool, WalkForward excluded) {
		double[] sum = new double[2];
		// in a fixed order whatever the map's, so that sums are the same each time
		byPool.entrySet().stream().filter(entry -> entry.getKey() != excluded).map(Map.Entry::getValue)
			.sorted((one, other) -> Double.compare(one[0] + 1e3 * one[1], other[0] + 1e3 * other[1]))
			.forEach(likelihood -> {
				sum[0] += LIKELIHOOD_WEIGHT * likelihood[0];
				sum[1] += LIKELIHOOD_WEIGHT * likelihood[1];
			});
		return sum;
	}

	/** Mean of what all technicians seem to be off by. @param prior spread between them */
	private static double common(List<double[]> sums, double prior) {
		double weight = 0;
		double mean = 0;
		for (double[] sum : sums) {
			if (sum[0] > 0) {
				double precision = 1 / (prior * prior + 1 / sum[0]);
				weight += precision;
				mean += precision * sum[1] / sum[0];
			}
		}
		return (weight > 0) ? mean / weight : 0;
	}

}
