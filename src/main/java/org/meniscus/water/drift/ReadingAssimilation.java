package org.meniscus.water.drift;

import java.util.Arrays;

import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Assimilation of one reading: weighs every particle by the reading's likelihood and updates its normal distribution of the level (Kalman
 * 1960), and those of the start level and of an unrecorded source that covary with it. A censored reading counts with its probability, and
 * the first two moments of the truncated distribution are kept. With a small chance, decided in each particle by its own fit, a reading
 * is an outlier and updates nothing.
 */
final class ReadingAssimilation {

	/** Spread of the logarithm of an outlier about the level. */
	private static final double OUTLIER_SPREAD = 0.8;

	private final ParticleLevels state;

	private final int level;

	private final UnrecordedSource unrecordedSource;

	private final SeasonVisit.Reading reading;

	/** Value read before the update, in the mean of all particles. */
	private double expected;

	/** Weight of the particles in which the reading was an outlier. */
	private double outlierWeight;

	ReadingAssimilation(ParticleLevels state, int level, UnrecordedSource unrecordedSource, SeasonVisit.Reading reading) {
		this.state = state;
		this.level = level;
		this.unrecordedSource = unrecordedSource;
		this.reading = reading;
	}

	/** @param bias of the technician by particle, natural logarithm */
	void update(double[] bias, double[] weight, double outlierShare, XorShiftRandom random) {
		double y = reading.value();
		double sum = 0;
		double outlierSum = 0;
		for (int i = 0; i < weight.length; i++) {
			double factor = Math.exp(bias[i]);
			double predicted = state.mean[i] * factor;
			double predictedVariance = state.variance[i] * factor * factor;
			double outlierDensity = outlierDensity(predicted);
			expected += weight[i] * predicted;
			double noise = reading.precision().repeatabilityVariance(
					(reading.qualifier() == ReadingQualifier.EXACT) ? compromise(predicted, predictedVariance) : y);
			double fit = likelihood(predicted, predictedVariance + noise);
			double likelihood = (1 - outlierShare) * fit + outlierShare * outlierDensity;
			boolean outlier = random.uniform() * likelihood < outlierShare * outlierDensity;
			weight[i] *= likelihood;
			sum += weight[i];
			if (outlier) {
				outlierSum += weight[i];
			}
			else {
				update(i, factor, noise);
			}
		}
		if (!(sum > 1e-300)) {
			Arrays.fill(weight, 1.0 / weight.length);
			return;
		}
		Resampling.normalize(weight, sum);
		outlierWeight = outlierSum / sum;
	}

	/** The level at which the reading's error is taken: between prediction and reading, by their precisions. */
	private double compromise(double predicted, double predictedVariance) {
		double y = reading.value();
		double noise = reading.precision().repeatabilityVariance(y);
		return (predicted * noise + y * predictedVariance) / (noise + predictedVariance);
	}

	private double likelihood(double predicted, double variance) {
		double y = reading.value();
		if (reading.qualifier() == ReadingQualifier.EXACT) {
			return Math.exp(-0.5 * (y - predicted) * (y - predicted) / variance) / Math.sqrt(2 * Math.PI * variance);
		}
		return censored((y - predicted) / Math.sqrt(variance));
	}

	private double outlierDensity(double predicted) {
		double y = Math.max(reading.value(), 1);
		double z = Math.log(y / Math.max(predicted, 1)) / OUTLIER_SPREAD;
		if (reading.qualifier() == ReadingQualifier.EXACT) {
			return Math.exp(-0.5 * z * z) / (y * OUTLIER_SPREAD * Math.sqrt(2 * Math.PI));
		}
		return censored(z);
	}

	private double censored(double z) {
		return NormalDistribution.cdf((reading.qualifier() == ReadingQualifier.BELOW) ? z : -z);
	}

	private void update(int i, double factor, double noise) {
		double prior = state.variance[i];
		double predicted = state.mean[i] * factor;
		double s = prior * factor * factor + noise;
		double innovation;
		double shrink;
		if (reading.qualifier() == ReadingQualifier.EXACT) {
			innovation = (reading.value() - predicted) / s;
			shrink = 1 / s;
		}
		else {
			double sign = (reading.qualifier() == ReadingQualifier.BELOW) ? -1 : 1;
			double root = Math.sqrt(s);
			double z = sign * (predicted - reading.value()) / root;
			double ratio = NormalDistribution.inverseMillsRatio(z);
			innovation = sign * ratio / root;
			shrink = ratio * (ratio + z) / s;
		}
		double covariance = prior * factor;
		double startCovariance = state.covarianceWithStart[i] * factor;
		state.mean[i] = Math.max(0, state.mean[i] + covariance * innovation);
		state.variance[i] = Math.max(1e-6, prior - covariance * covariance * shrink);
		state.startMean[i] += startCovariance * innovation;
		state.startVariance[i] = Math.max(1e-6, state.startVariance[i] - startCovariance * startCovariance * shrink);
		state.covarianceWithStart[i] -= covariance * startCovariance * shrink;
		if (unrecordedSource.raises(level, i)) {
			UnrecordedSource source = unrecordedSource;
			double rateCovariance = source.covarianceWithLevel[i] * factor;
			source.mean[i] = Math.max(0, source.mean[i] + rateCovariance * innovation);
			source.variance[i] = Math.max(1e-9, source.variance[i] - rateCovariance * rateCovariance * shrink);
			source.covarianceWithStart[i] -= startCovariance * rateCovariance * shrink;
			source.covarianceWithLevel[i] -= covariance * rateCovariance * shrink;
		}
	}

	double expected() {
		return expected;
	}

	/** Whether it was an outlier more likely than not. */
	boolean outlier() {
		return outlierWeight > 0.5;
	}

}
