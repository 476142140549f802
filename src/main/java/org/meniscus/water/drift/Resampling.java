package org.meniscus.water.drift;

import org.meniscus.water.units.XorShiftRandom;

/** Resampling of weighted particles. */
final class Resampling {

	/** Parameters are jittered by this share of their spread. */
	private static final double JITTER = 0.1;

	private Resampling() {
	}

	/** Kish's effective number of particles. */
	static double effectiveSampleSize(double[] weight) {
		double squares = 0;
		for (double w : weight) {
			squares += w * w;
		}
		return 1 / squares;
	}

	static void normalize(double[] weight, double sum) {
		for (int i = 0; i < weight.length; i++) {
			weight[i] /= sum;
		}
	}

	/** Indices of so many particles, each as often as its weight says, from the middle of equal steps (Kitagawa 1996, deterministic). */
	static int[] systematicResample(double[] weight, int count) {
		int[] from = new int[count];
		double step = 1.0 / count;
		double target = step / 2;
		double cumulative = weight[0];
		for (int i = 0, k = 0; i < count; i++, target += step) {
			while (cumulative < target && k < weight.length - 1) {
				cumulative += weight[++k];
			}
			from[i] = k;
		}
		return from;
	}

	static void gather(double[] values, int[] from) {
		double[] old = values.clone();
		for (int i = 0; i < from.length; i++) {
			values[i] = old[from[i]];
		}
	}

	static void gather(long[] values, int[] from) {
		long[] old = values.clone();
		for (int i = 0; i < from.length; i++) {
			values[i] = old[from[i]];
		}
	}

	static void gather(boolean[] values, int[] from) {
		boolean[] old = values.clone();
		for (int i = 0; i < from.length; i++) {
			values[i] = old[from[i]];
		}
	}

	/**
	 * Moves the values a little and keeps their mean and spread (Liu and West 2001). Values of 0 are switched off and stay.
	 *
	 * @param positive moved in their logarithm
	 */
	static void jitter(double[] values, boolean positive, XorShiftRandom random) {
		double sum = 0;
		double squares = 0;
		int count = 0;
		for (double value : values) {
			if (value != 0) {
				double x = positive ? Math.log(value) : value;
				sum += x;
				squares += x * x;
				count++;
			}
		}
		if (count < 2) {
			return;
		}
		double mean = sum / count;
		double deviation = Math.sqrt(Math.max(0, squares / count - mean * mean));
		if (deviation < 1e-9) {
			return;
		}
		double shrink = Math.sqrt(1 - JITTER * JITTER);
		for (int i = 0; i < values.length; i++) {
			if (values[i] != 0) {
				double x = positive ? Math.log(values[i]) : values[i];
				x = mean + shrink * (x - mean) + JITTER * deviation * random.normal();
				values[i] = positive ? Math.exp(x) : x;
			}
		}
	}

}
