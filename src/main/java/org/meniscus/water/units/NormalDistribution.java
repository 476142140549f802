package org.meniscus.water.units;

/** The standard normal distribution. */
public final class NormalDistribution {

	/** Quantile of 0.9: four in five values lie within so many standard deviations of the mean. */
	public static final double Z80 = 1.2815515655446004;

	private NormalDistribution() {
	}

	/**
	 * Inverse of {@link #cdf}, good to 1e-12.
	 *
	 * @param probability above 0 and below 1
	 */
	public static double quantile(double probability) {
		if (!(probability > 0) || !(probability < 1)) {
			throw new IllegalArgumentException("not a probability: " + probability);
		}
		return RootFinder.newton(z -> cdf(z) - probability, NormalDistribution::pdf, -6.5, 6.5, 0, 1e-12);
	}

	/** By the convergent series of the error function (Abramowitz and Stegun 26.2.11); its tail beyond 6 is below 1e-9. */
	public static double cdf(double z) {
		if (z < -6.5) {
			return 0;
		}
		if (z > 6.5) {
			return 1;
		}
		double term = z;
		double sum = z;
		for (int n = 1; Math.abs(term) > 1e-16 * Math.abs(sum); n++) {
			term *= z * z / (2 * n + 1);
			sum += term;
		}
		return 0.5 + sum * Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
	}

	/** {@code pdf(z) / cdf(z)}: how far, in standard deviations, truncating a standard normal variable above {@code z} lowers its mean. */
	public static double inverseMillsRatio(double z) {
		// asymptotic expansion where both are tiny
		return (z < -6) ? -z + 1 / -z : pdf(z) / cdf(z);
	}

	public static double pdf(double z) {
		return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
	}

	/**
	 * Expectation of max(0, X - limit) for normal X (the normal loss function).
	 *
	 * @param standardDeviation of X, zero or more
	 */
	public static double expectedExcess(double mean, double standardDeviation, double limit) {
		if (standardDeviation <= 0) {
			return Math.max(0, mean - limit);
		}
		double z = (mean - limit) / standardDeviation;
		return (mean - limit) * cdf(z) + standardDeviation * pdf(z);
	}

}
