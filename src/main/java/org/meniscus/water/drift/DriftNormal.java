package org.meniscus.water.drift;

/** The standard normal distribution. */
final class DriftNormal {

	private static final double ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

	private DriftNormal() {
	}

	static double pdf(double z) {
		return Math.exp(-0.5 * z * z) / ROOT_TWO_PI;
	}

	/** Probability of being below z; absolute error below 1e-7: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.17. */
	static double cdf(double z) {
		double t = 1 / (1 + 0.2316419 * Math.abs(z));
		double tail = pdf(z) * t
				* (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
		return (z > 0) ? 1 - tail : tail;
	}

	/** Value below which lies the probability, between 0 and 1: by halving, as exact as {@link #cdf}. */
	static double quantile(double probability) {
		double low = -8;
		double high = 8;
		for (int k = 0; k < 60; k++) {
			double middle = (low + high) / 2;
			if (cdf(middle) < probability) {
				low = middle;
			}
			else {
				high = middle;
			}
		}
		return (low + high) / 2;
	}

	/** Density over the probability of being below: how far, in standard deviations, a cut at z moves the mean. */
	static double inverseMillsRatio(double z) {
		// far below, the quotient of two tiny numbers tends to -z
		return (z < -6) ? -z + 1 / -z : pdf(z) / cdf(z);
	}

}
