package org.meniscus.water.drift;

import java.util.List;

import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Something nobody writes down that raises a level day by day, such as a floater the homeowner fills: in every particle none, or one whose
 * rate is normal jointly with its level.
 */
final class UnrecordedSource {

	private static final int NONE = -1;

	/** Which level it raises. */
	private final int[] level;

	/** Rate, ppm a day at a demand of one. */
	final double[] mean;

	final double[] variance;

	final double[] covarianceWithLevel;

	final double[] covarianceWithStart;

	UnrecordedSource(int particleCount) {
		this.level = new int[particleCount];
		this.mean = new double[particleCount];
		this.variance = new double[particleCount];
		this.covarianceWithLevel = new double[particleCount];
		this.covarianceWithStart = new double[particleCount];
	}

	boolean present(int particle) {
		return level[particle] != NONE;
	}

	boolean raises(int slowLevel, int particle) {
		return level[particle] == slowLevel;
	}

	/** Eight of ten are tablets, one dichlor, one calcium hypochlorite; at a rate not yet known. Assumption. */
	void begin(int particle, XorShiftRandom random) {
		double kind = random.uniform();
		double perChlorine = (kind < 0.8) ? 0.607 : (kind < 0.9) ? 0.910 : 0.72;
		set(particle, (kind < 0.9) ? SlowLevels.CYA : SlowLevels.CH, perChlorine * Priors.UNRECORDED_CHLORINE,
				perChlorine * Priors.UNRECORDED_CHLORINE_SPREAD * perChlorine * Priors.UNRECORDED_CHLORINE_SPREAD);
	}

	void end(int particle) {
		set(particle, NONE, 0, 0);
	}

	private void set(int particle, int slowLevel, double rate, double rateVariance) {
		level[particle] = slowLevel;
		mean[particle] = rate;
		variance[particle] = rateVariance;
		covarianceWithLevel[particle] = 0;
		covarianceWithStart[particle] = 0;
	}

	/** Nothing is known of the level any more. */
	void forget(int slowLevel) {
		for (int i = 0; i < level.length; i++) {
			if (level[i] == slowLevel) {
				covarianceWithLevel[i] = 0;
				covarianceWithStart[i] = 0;
			}
		}
	}

	List<double[]> arrays() {
		return List.of(mean, variance, covarianceWithLevel, covarianceWithStart);
	}

	void gather(int[] from) {
		arrays().forEach(values -> Resampling.gather(values, from));
		int[] old = level.clone();
		for (int i = 0; i < from.length; i++) {
			level[i] = old[from[i]];
		}
	}

}
