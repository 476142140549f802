package org.meniscus.water.drift;

import java.util.Arrays;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Assimilation of one reading: weighs every particle by the reading's likelihood and updates its joint normal distribution (Kalman 1960). A censored reading counts with its probability, and
 * the first two moments of the truncated distribution are kept. With a small chance, decided in each particle by its own fit, a reading
 * is an outlier and updates nothing.
 */
final class ReadingAssimilation {

	/** Spread of the logarithm of an outlier about the level. */
	private static final double OUTLIER_SPREAD = 0.8;

	/** Share of outliers that are twice the level, as many half of it, and of those ten times it, as many a tenth. Assumption. */
	private static final double TWICE = 0.2, TENFOLD = 0.05;

	private final JointNormalParticles state;

	/** Component of the level. */
	private final int level;

	/** Component of the technician's bias, natural logarithm. */
	private final int bias;

	private final SeasonVisit.Reading reading;

	/** By particle, besides the bias. */
	private final double @Nullable [] shift;

	/** Value read before the update, in the mean of all particles. */
	private double expected;

	/** Weight of the particles in which the reading was an outlier. */
	private double outlierWeight;

	ReadingAssimilation(JointNormalParticles state, int level, int bias, SeasonVisit.Reading reading,
			double @Nullable [] shift) {
		this.state = state;
		this.level = level;
		this.bias = bias;
		this.reading = reading;
		this.shift = shift;
	}

	void update(double[] weight, double outlierShare, XorShiftRandom random) {
		double y = reading.value();
		double sum = 0;
		double outlierSum = 0;
		for (int i = 0; i < weight.length; i++) {
			// what is read is level x exp(bias), linear near their means
			double factor = Math.exp(state.mean(bias, i) + ((shift != null) ? shift[i] : 0));
			double predicted = state.mean(level, i) * factor;
			double predictedVariance = state.variance(level, factor, bias, predicted, i);
			expected += weight[i] * predicted;
			double noise = reading.precision().repeatabilityVariance(
					(reading.qualifier() == ReadingQualifier.EXACT) ? compromise(predicted, predictedVariance) : y);
			double fit = likelihood(predicted, predictedVariance + noise);
			double outlierDensity = outlierDensity(predicted, predictedVariance);
			double likelihood = (1 - outlierShare) * fit + outlierShare * outlierDensity;
			boolean outlier = random.uniform() * likelihood < outlierShare * outlierDensity;
			weight[i] *= likelihood;
			sum += weight[i];
			if (outlier) {
				outlierSum += weight[i];
			}
			else {
				update(i, factor, predicted, predictedVariance + noise);
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

	/** Of no pattern, twice or half as high (a sample diluted, a drop counted the wrong way), or ten times (a decimal point). */
	private double outlierDensity(double predicted, double predictedVariance) {
		double y = Math.max(reading.value(), 1);
		double z = Math.log(y / Math.max(predicted, 1)) / OUTLIER_SPREAD;
		if (reading.qualifier() != ReadingQualifier.EXACT) {
			return censored(z);
		}
		double density = (1 - 2 * TWICE - 2 * TENFOLD) * Math.exp(-0.5 * z * z) / (y * OUTLIER_SPREAD * Math.sqrt(2 * Math.PI));
		double noise = reading.precision().repeatabilityVariance(y);
		for (double factor : new double[]{ 2, 0.5, 10, 0.1 }) {
			double share = (factor == 2 || factor == 0.5) ? TWICE : TENFOLD;
			density += share * likelihood(factor * predicted, factor * factor * predictedVariance + noise);
		}
		return density;
	}

	private double censored(double z) {
		return NormalDistribution.cdf((reading.qualifier() == ReadingQualifier.BELOW) ? z : -z);
	}

	private void update(int i, double factor, double predicted, double variance) {
		double innovation;
		double shrink;
		if (reading.qualifier() == ReadingQualifier.EXACT) {
			innovation = (reading.value() - predicted) / variance;
			shrink = 1 / variance;
		}
		else {
			double sign = (reading.qualifier() == ReadingQualifier.BELOW) ? -1 : 1;
			double root = Math.sqrt(variance);
			double z = sign * (predicted - reading.value()) / root;
			double ratio = NormalDistribution.inverseMillsRatio(z);
			innovation = sign * ratio / root;
			shrink = ratio * (ratio + z) / variance;
		}
		state.update(i, level, factor, bias, predicted, innovation, shrink);
	}

	double expected() {
		return expected;
	}

	/** Whether it was an outlier more likely than not. */
	boolean outlier() {
		return outlierWeight > 0.5;
	}

}
