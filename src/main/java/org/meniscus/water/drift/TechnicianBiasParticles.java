package org.meniscus.water.drift;

import java.util.HashMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;

/**
 * How much too high or too low each technician reads each level: natural logarithm of read over true, components of
 * {@link JointNormalParticles}.
 */
final class TechnicianBiasParticles {

	private final JointNormalParticles state;

	private final Map<TechnicianBias.Key, Integer> components = new HashMap<>();

	/** Prior of each bias: what is known apart from this pool's own readings. */
	private final Map<TechnicianBias.Key, TechnicianBias.Estimate> priors = new HashMap<>();

	TechnicianBiasParticles(JointNormalParticles state) {
		this.state = state;
	}

	/** Component of the bias; by its prior when a technician reads a level for the first time, later by what other pools say since. */
	int of(@Nullable String technician, int level, TestPrecision precision, TechnicianBias known, double[] weight) {
		TechnicianBias.Key key = new TechnicianBias.Key((technician != null) ? technician : "", SlowLevels.ALL.get(level));
		Integer component = components.get(key);
		if (component == null) {
			component = state.add();
			components.put(key, component);
			TechnicianBias.Estimate prior = known.estimates().getOrDefault(key, new TechnicianBias.Estimate(0, precision.bias()));
			priors.put(key, prior);
			for (int i = 0; i < state.particleCount; i++) {
				state.set(component, i, prior.mean(), prior.deviation() * prior.deviation());
			}
		}
		else {
			updatePrior(key, component, known, weight);
		}
		return component;
	}

	/** What others have learnt since: the new prior is the old one times the likelihood of a measurement. */
	private void updatePrior(TechnicianBias.Key key, int component, TechnicianBias known, double[] weight) {
		TechnicianBias.Estimate now = known.estimates().get(key);
		TechnicianBias.Estimate before = priors.get(key);
		if (now == null || before == null) {
			return;
		}
		double precision = 1 / square(now.deviation()) - 1 / square(before.deviation());
		if (precision < 1e-3 / square(before.deviation())) {
			return;
		}
		priors.put(key, now);
		double measured = (now.mean() / square(now.deviation()) - before.mean() / square(before.deviation())) / precision;
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			double variance = state.variance(component, i) + 1 / precision;
			double off = measured - state.mean(component, i);
			weight[i] *= Math.exp(-Math.min(40, 0.5 * off * off / variance)) / Math.sqrt(variance);
			sum += weight[i];
			state.update(i, component, 1, component, 0, off / variance, 1 / variance);
		}
		Resampling.normalize(weight, sum);
	}

	/**
	 * What this pool's own readings say of a bias, as a normal likelihood: precision, and precision times mean.
	 *
	 * @return null when they say nothing
	 */
	double @Nullable [] likelihood(TechnicianBias.Key key, double[] weight) {
		Integer component = components.get(key);
		TechnicianBias.Estimate prior = priors.get(key);
		if (component == null || prior == null) {
			return null;
		}
		double mean = state.expected(component, weight);
		double posterior = 1 / Math.max(1e-6, state.totalVariance(component, weight, mean));
		double before = 1 / square(prior.deviation());
		// sampling noise may make it look as if a reading had taken knowledge away
		return (posterior > before) ? new double[]{ posterior - before, posterior * mean - before * prior.mean() } : null;
	}

	private static double square(double x) {
		return x * x;
	}

}
