package org.meniscus.water.drift;

import java.util.Arrays;
import java.util.List;

/** One level in every particle: given the particle's parameters a normal distribution, together with the level at the season's start. */
final class ParticleLevels {

	final double[] mean;

	final double[] variance;

	final double[] startMean;

	final double[] startVariance;

	final double[] covarianceWithStart;

	ParticleLevels(int particleCount) {
		this.mean = new double[particleCount];
		this.variance = new double[particleCount];
		this.startMean = new double[particleCount];
		this.startVariance = new double[particleCount];
		this.covarianceWithStart = new double[particleCount];
	}

	/** The season starts here, with nothing known but the prior. */
	void reset(double priorMean, double priorDeviation) {
		Arrays.fill(mean, priorMean);
		Arrays.fill(startMean, priorMean);
		for (double[] values : List.of(variance, startVariance, covarianceWithStart)) {
			Arrays.fill(values, priorDeviation * priorDeviation);
		}
	}

	double expected(double[] weight) {
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			sum += weight[i] * mean[i];
		}
		return sum;
	}

	/** Variance over all particles. */
	double totalVariance(double[] weight, double expected) {
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			double off = mean[i] - expected;
			sum += weight[i] * (off * off + variance[i]);
		}
		return sum;
	}

	List<double[]> arrays() {
		return List.of(mean, variance, startMean, startVariance, covarianceWithStart);
	}

}
