package org.meniscus.water.drift;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.XorShiftRandom;

/** How much too high or too low each technician reads each level, in every particle: natural logarithm of read over true. */
final class TechnicianBiasParticles {

	/** By technician and level. */
	private final Map<String, double[][]> biases = new LinkedHashMap<>();

	/** Prior of each bias: what is known apart from this pool's own readings. */
	private final Map<TechnicianBias.Key, TechnicianBias.Estimate> priors = new HashMap<>();

	/** Draws the bias when a technician reads a level for the first time; later weighs it by what other pools say since. */
	double[] of(@Nullable String technician, int level, TestPrecision precision, TechnicianBias known, double[] weight,
			XorShiftRandom random) {
		String name = (technician != null) ? technician : "";
		double[][] own = biases.computeIfAbsent(name, key -> new double[SlowLevels.COUNT][]);
		TechnicianBias.Key key = new TechnicianBias.Key(name, SlowLevels.ALL.get(level));
		if (own[level] == null) {
			own[level] = new double[weight.length];
			TechnicianBias.Estimate prior = known.estimates().getOrDefault(key, new TechnicianBias.Estimate(0, precision.bias()));
			priors.put(key, prior);
			for (int i = 0; i < weight.length; i++) {
				own[level][i] = prior.mean() + prior.deviation() * random.normal();
			}
		}
		else {
			updatePrior(key, own[level], known, weight);
		}
		return own[level];
	}

	/** Importance weights: new over old prior density. */
	private void updatePrior(TechnicianBias.Key key, double[] bias, TechnicianBias known, double[] weight) {
		TechnicianBias.Estimate now = known.estimates().get(key);
		TechnicianBias.Estimate before = priors.get(key);
		if (now == null || before == null || now.equals(before)) {
			return;
		}
		priors.put(key, now);
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			double zNow = (bias[i] - now.mean()) / now.deviation();
			double zBefore = (bias[i] - before.mean()) / before.deviation();
			weight[i] *= Math.exp(Math.max(-20, Math.min(20, 0.5 * (zBefore * zBefore - zNow * zNow))));
			sum += weight[i];
		}
		Resampling.normalize(weight, sum);
	}

	/**
	 * What this pool's own readings say of a bias, as a normal likelihood: precision, and precision times mean.
	 *
	 * @return null when they say nothing
	 */
	double @Nullable [] likelihood(TechnicianBias.Key key, double[] weight) {
		double[][] own = biases.get(key.technician());
		TechnicianBias.Estimate prior = priors.get(key);
		double[] bias = (own != null) ? own[SlowLevels.ALL.indexOf(key.level())] : null;
		if (bias == null || prior == null) {
			return null;
		}
		double mean = 0;
		double squares = 0;
		for (int i = 0; i < weight.length; i++) {
			mean += weight[i] * bias[i];
			squares += weight[i] * bias[i] * bias[i];
		}
		double posterior = 1 / Math.max(1e-6, squares - mean * mean);
		double before = 1 / (prior.deviation() * prior.deviation());
		// sampling noise may make it look as if a reading had taken knowledge away
		return (posterior > before) ? new double[]{ posterior - before, posterior * mean - before * prior.mean() } : null;
	}

	void gatherAndJitter(int[] from, XorShiftRandom random) {
		for (double[][] own : biases.values()) {
			for (double[] bias : own) {
				if (bias != null) {
					Resampling.gather(bias, from);
					Resampling.jitter(bias, false, random);
				}
			}
		}
	}

}
