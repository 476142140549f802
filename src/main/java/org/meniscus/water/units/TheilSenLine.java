package org.meniscus.water.units;

import java.util.Arrays;

/**
 * Slope of a straight line, robust against outliers: the median of the slopes of all pairs of points (Theil 1950), with the 80 % interval
 * of Sen, Journal of the American Statistical Association 63:1379-1389, 1968: from the normal approximation of Kendall's statistic.
 *
 * @param low,high infinite where the points do not bound the slope
 */
public record TheilSenLine(double slope, double low, double high) {

	/** @throws IllegalArgumentException when all points have the same x */
	public static TheilSenLine through(double[] x, double[] y) {
		return through(x, y, NormalDistribution.Z80);
	}

	/** @param z standard normal quantile of the interval */
	public static TheilSenLine through(double[] x, double[] y, double z) {
		double[] slopes = new double[x.length * (x.length - 1) / 2];
		int pairs = 0;
		for (int i = 0; i < x.length; i++) {
			for (int j = i + 1; j < x.length; j++) {
				if (x[i] != x[j]) {
					double rise = (x[i] < x[j]) ? y[j] - y[i] : y[i] - y[j];
					slopes[pairs++] = rise / Math.abs(x[j] - x[i]);
				}
			}
		}
		if (pairs == 0) {
			throw new IllegalArgumentException("no two points apart");
		}
		slopes = Arrays.copyOf(slopes, pairs);
		Arrays.sort(slopes);
		double n = x.length;
		double kendallVariance = (n * (n - 1) * (2 * n + 5) - ties(x) - ties(y)) / 18;
		int rank = (int) Math.round((pairs - z * Math.sqrt(kendallVariance)) / 2);
		return new TheilSenLine(median(slopes), (rank >= 1) ? slopes[rank - 1] : Double.NEGATIVE_INFINITY,
				(rank >= 1) ? slopes[pairs - rank] : Double.POSITIVE_INFINITY);
	}

	public static double median(double[] values) {
		double[] sorted = values.clone();
		Arrays.sort(sorted);
		return (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2;
	}

	/** What equal values take from Kendall's variance: t (t - 1) (2 t + 5) for each group of t. */
	private static double ties(double[] values) {
		double[] sorted = values.clone();
		Arrays.sort(sorted);
		double sum = 0;
		for (int from = 0, to = 0; from < sorted.length; from = to) {
			while (to < sorted.length && sorted[to] == sorted[from]) {
				to++;
			}
			double count = to - from;
			sum += count * (count - 1) * (2 * count + 5);
		}
		return sum;
	}

}
