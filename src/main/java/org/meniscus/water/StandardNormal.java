package org.meniscus.water;

/** The standard normal distribution. */
public final class StandardNormal {

	private StandardNormal() {
	}

	/**
	 * By halving on the distribution function, good to 1e-9.
	 *
	 * @param chance above 0 and below 1
	 */
	public static double quantile(double chance) {
		if (!(chance > 0) || !(chance < 1)) {
			throw new IllegalArgumentException("not a chance: " + chance);
		}
		double low = -8;
		double high = 8;
		for (int step = 0; step < 40; step++) {
			double middle = 0.5 * (low + high);
			if (cumulative(middle) < chance) {
				low = middle;
			}
			else {
				high = middle;
			}
		}
		return 0.5 * (low + high);
	}

	/** By the convergent series of the error function (Abramowitz and Stegun 26.2.11); its tail beyond 6 is below 1e-9. */
	public static double cumulative(double z) {
		if (z < -6.5) {
			return 0;
		}
		if (z > 6.5) {
			return 1;
		}
		double term = z;
		double sum = z;
		for (int n = 1; n < 200 && Math.abs(term) > 1e-16 * Math.abs(sum); n++) {
			term *= z * z / (2 * n + 1);
			sum += term;
		}
		return 0.5 + sum * Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
	}

	public static double density(double z) {
		return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
	}

	/**
	 * How far a normal value lies beyond a limit in the mean: the expectation of max(0, X - limit) (normal loss function).
	 *
	 * @param spread s.d. of X, zero or more
	 */
	public static double excess(double mean, double spread, double limit) {
		if (spread <= 0) {
			return Math.max(0, mean - limit);
		}
		double z = (mean - limit) / spread;
		return (mean - limit) * cumulative(z) + spread * density(z);
	}

}
