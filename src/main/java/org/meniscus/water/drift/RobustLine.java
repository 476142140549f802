package org.meniscus.water.drift;

import java.util.Arrays;

import org.jspecify.annotations.Nullable;

/**
 * A straight line through points of which some are only known to lie between two bounds.
 * <p>
 * Slope: the median of the slopes of all pairs (Theil 1950; Sen, Journal of the American Statistical Association 63:1379-1389,
 * 1968), intercept: the median residual, interval of the slope: Sen's, from the normal approximation of Kendall's statistic.
 * A pair with a bounded point has a slope between two bounds; the median is then the value with as many slopes surely above as
 * surely below it (Akritas, Murphy and LaValley, JASA 90:170-177, 1995, for doubly censored data; from memory). With exact
 * points alone that is the ordinary median.
 *
 * @param slopeLow,slopeHigh infinite where the points do not bound the slope
 */
record RobustLine(double slope, double slopeLow, double slopeHigh, double intercept) {

	/**
	 * @param low,high bounds of each point, equal for an exact one
	 * @param z standard normal quantile of the interval, 1.2816 for 80 %
	 * @return null when no pair of points says anything about the slope
	 */
	static @Nullable RobustLine through(double[] x, double[] low, double[] high, double z) {
		int n = x.length;
		double[] lows = new double[n * (n - 1) / 2];
		double[] highs = new double[lows.length];
		int pairs = 0;
		for (int i = 0; i < n; i++) {
			for (int j = i + 1; j < n; j++) {
				if (x[i] == x[j]) {
					continue;
				}
				int first = (x[i] < x[j]) ? i : j;
				int second = (first == i) ? j : i;
				double run = x[second] - x[first];
				lows[pairs] = (low[second] - high[first]) / run;
				highs[pairs] = (high[second] - low[first]) / run;
				pairs++;
			}
		}
		lows = Arrays.copyOf(lows, pairs);
		highs = Arrays.copyOf(highs, pairs);
		Arrays.sort(lows);
		Arrays.sort(highs);
		double slope = median(lows, highs);
		if (Double.isNaN(slope)) {
			return null;
		}
		// one more: Kendall's correction for a statistic that moves in steps of two
		double spread = z * Math.sqrt(kendallVariance(x, low, high)) + 1;
		return new RobustLine(slope, lastAbove(lows, highs, spread), firstBelow(lows, highs, -spread),
				intercept(slope, x, low, high));
	}

	/** Median residual, NaN when every point is open on the same side. */
	static double intercept(double slope, double[] x, double[] low, double[] high) {
		double[] lows = new double[x.length];
		double[] highs = new double[x.length];
		for (int i = 0; i < x.length; i++) {
			lows[i] = low[i] - slope * x[i];
			highs[i] = high[i] - slope * x[i];
		}
		Arrays.sort(lows);
		Arrays.sort(highs);
		return median(lows, highs);
	}

	/**
	 * The value with as many intervals surely above as surely below it; the middle of such values where there are several. NaN
	 * when they reach to infinity: then the intervals do not settle it.
	 */
	static double median(double[] sortedLows, double[] sortedHighs) {
		double from = lastAbove(sortedLows, sortedHighs, 0);
		double to = firstBelow(sortedLows, sortedHighs, 0);
		if (Double.isInfinite(from) || Double.isInfinite(to)) {
			return Double.NaN;
		}
		return (from + to) / 2;
	}

	/** Greatest value up to which (surely above − surely below) exceeds the threshold. */
	private static double lastAbove(double[] lows, double[] highs, double threshold) {
		double last = Double.NEGATIVE_INFINITY;
		for (double candidate : merged(lows, highs)) {
			if (balanceBefore(lows, highs, candidate) > threshold) {
				last = candidate;
			}
			else {
				break;
			}
		}
		return last;
	}

	/** Least value from which (surely above − surely below) is less than the threshold. */
	private static double firstBelow(double[] lows, double[] highs, double threshold) {
		for (double candidate : merged(lows, highs)) {
			if (balanceAfter(lows, highs, candidate) < threshold) {
				return candidate;
			}
		}
		return Double.POSITIVE_INFINITY;
	}

	/** Just below the value: bounds equal to it still count as above. */
	private static int balanceBefore(double[] lows, double[] highs, double value) {
		return (lows.length - countLess(lows, value)) - countLess(highs, value);
	}

	/** Just above the value: bounds equal to it count as below. */
	private static int balanceAfter(double[] lows, double[] highs, double value) {
		return (lows.length - countAtMost(lows, value)) - countAtMost(highs, value);
	}

	/** Every finite bound once, rising. */
	private static double[] merged(double[] lows, double[] highs) {
		double[] all = new double[lows.length + highs.length];
		int count = 0;
		for (double low : lows) {
			if (!Double.isInfinite(low)) {
				all[count++] = low;
			}
		}
		for (double high : highs) {
			if (!Double.isInfinite(high)) {
				all[count++] = high;
			}
		}
		all = Arrays.copyOf(all, count);
		Arrays.sort(all);
		return all;
	}

	private static int countLess(double[] sorted, double value) {
		int from = 0;
		int to = sorted.length;
		while (from < to) {
			int middle = (from + to) >>> 1;
			if (sorted[middle] < value) {
				from = middle + 1;
			}
			else {
				to = middle;
			}
		}
		return from;
	}

	private static int countAtMost(double[] sorted, double value) {
		int from = 0;
		int to = sorted.length;
		while (from < to) {
			int middle = (from + to) >>> 1;
			if (sorted[middle] <= value) {
				from = middle + 1;
			}
			else {
				to = middle;
			}
		}
		return from;
	}

	/** Variance of Kendall's statistic with ties in x and in y; bounded points are taken as untied, which widens the interval. */
	private static double kendallVariance(double[] x, double[] low, double[] high) {
		int n = x.length;
		int exact = 0;
		double[] y = new double[n];
		for (int i = 0; i < n; i++) {
			if (low[i] == high[i]) {
				y[exact++] = low[i];
			}
		}
		return (n * (n - 1.0) * (2 * n + 5.0) - ties(x.clone()) - ties(Arrays.copyOf(y, exact))) / 18;
	}

	private static double ties(double[] values) {
		Arrays.sort(values);
		double sum = 0;
		int run = 1;
		for (int i = 1; i <= values.length; i++) {
			if (i < values.length && values[i] == values[i - 1]) {
				run++;
			}
			else {
				sum += run * (run - 1.0) * (2 * run + 5.0);
				run = 1;
			}
		}
		return sum;
	}

}
