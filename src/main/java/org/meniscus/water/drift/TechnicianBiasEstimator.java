package org.meniscus.water.drift;

import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.Map;
import java.util.Objects;

import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;

/**
 * Estimates each technician's bias from the readings at all pools so far: the prior times one normal likelihood from each pool. A pool is
 * given what the others say, never its own likelihood again. Add and ask in order of date; not for use by several threads.
 */
public final class TechnicianBiasEstimator {

	/** No bias is known better than this share of its prior spread: pools of one technician share errors of the model. Assumption. */
	private static final double MIN_SPREAD_RATIO = 0.6;

	/** A pool's likelihood counts so much: its other parameters are estimated from the same readings. Assumption. */
	private static final double LIKELIHOOD_WEIGHT = 0.2;

	private static final Map<Level, Double> PRIOR_DEVIATION = Map.of(Level.CYA, TestPrecision.PHOTOMETER.bias(), Level.CH,
			TestPrecision.titration(10).bias());

	/** Precision, and precision times mean, by pool. */
	private final Map<TechnicianBias.Key, Map<WalkForward, double[]>> likelihoods = new HashMap<>();

	void add(WalkForward pool, TechnicianBias.Key key, double[] likelihood) {
		if (PRIOR_DEVIATION.containsKey(key.level())) {
			likelihoods.computeIfAbsent(key, any -> new IdentityHashMap<>()).put(pool, likelihood);
		}
	}

	/** For a pool: what all the others say. */
	public TechnicianBias excluding(WalkForward pool) {
		Map<TechnicianBias.Key, TechnicianBias.Estimate> estimates = new HashMap<>();
		likelihoods.forEach((key, byPool) -> estimates.put(key, posterior(key.level(), byPool, pool)));
		return new TechnicianBias(estimates);
	}

	private static TechnicianBias.Estimate posterior(Level level, Map<WalkForward, double[]> byPool, WalkForward excluded) {
		double prior = Objects.requireNonNull(PRIOR_DEVIATION.get(level));
		double precision = 1 / (prior * prior);
		double sum = 0;
		// in a fixed order whatever the map's, so that sums are the same each time
		double[][] others = byPool.entrySet().stream().filter(entry -> entry.getKey() != excluded).map(Map.Entry::getValue)
			.sorted((one, other) -> Double.compare(one[0] + 1e3 * one[1], other[0] + 1e3 * other[1])).toArray(double[][]::new);
		for (double[] likelihood : others) {
			precision += LIKELIHOOD_WEIGHT * likelihood[0];
			sum += LIKELIHOOD_WEIGHT * likelihood[1];
		}
		return new TechnicianBias.Estimate(sum / precision, Math.max(MIN_SPREAD_RATIO * prior, 1 / Math.sqrt(precision)));
	}

}
