package org.meniscus.water.drift;

import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.Map;
import java.util.Objects;

import org.meniscus.water.pool.Level;

/**
 * What the readings at all pools so far say of each technician: normal likelihoods of the bias, one from each pool, multiplied. A
 * pool is told what the others know, never its own word again. Ask and tell in order of date; not for use by several threads.
 */
public final class TechnicianBiasEstimator {

	/** No bias is known better than this share of its usual spread: pools of one technician share errors of the model. Assumption. */
	private static final double MIN_SPREAD_RATIO = 0.6;

	/** A pool's word counts so much: its other constants are told by the same readings. Assumption. */
	private static final double LIKELIHOOD_WEIGHT = 0.2;

	private static final Map<Level, Double> PRIOR_DEVIATION = Map.of(Level.CYA, ReadingError.PHOTOMETER.bias(), Level.CH,
			ReadingError.titration(10).bias());

	private final Map<TechnicianBias.Key, Map<WalkForward, double[]>> likelihoods = new HashMap<>();

	void add(WalkForward pool, TechnicianBias.Key key, double[] likelihood) {
		if (PRIOR_DEVIATION.containsKey(key.level())) {
			likelihoods.computeIfAbsent(key, any -> new IdentityHashMap<>()).put(pool, likelihood);
		}
	}

	/** For a pool: what all the others say. */
	public TechnicianBias excluding(WalkForward pool) {
		Map<TechnicianBias.Key, TechnicianBias.Estimate> known = new HashMap<>();
		likelihoods.forEach((key, pools) -> known.put(key, belief(key.level(), pools, pool)));
		return new TechnicianBias(known);
	}

	private static TechnicianBias.Estimate belief(Level level, Map<WalkForward, double[]> pools, WalkForward without) {
		double usual = Objects.requireNonNull(PRIOR_DEVIATION.get(level));
		double precision = 1 / (usual * usual);
		double sum = 0;
		// in a fixed order whatever the map's, so that sums are the same each time
		double[][] words = pools.entrySet().stream().filter(entry -> entry.getKey() != without).map(Map.Entry::getValue)
			.sorted((one, other) -> Double.compare(one[0] + 1e3 * one[1], other[0] + 1e3 * other[1])).toArray(double[][]::new);
		for (double[] word : words) {
			precision += LIKELIHOOD_WEIGHT * word[0];
			sum += LIKELIHOOD_WEIGHT * word[1];
		}
		return new TechnicianBias.Estimate(sum / precision, Math.max(MIN_SPREAD_RATIO * usual, 1 / Math.sqrt(precision)));
	}

}
