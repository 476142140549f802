package org.meniscus.water.demand;

/**
 * Fraction of the cyanuric acid that a pool loses in a day while nobody replaces water. The whole loss has two parts: what breaks
 * down in the water, faster in warm water, and what leaves with water (splash, overflow, backwash) and is made up by water without
 * any. Together "a few ppm a month", common practice, no source; so are both parts and the doubling each 10 °C.
 */
public final class CyanuricAcidLoss {

	/** Broken down in a day at 28 °C, fraction. */
	public static final double BREAKDOWN_AT_28 = 0.0013;

	/** Leaves with water in a day in the mean of a season, fraction. */
	public static final double OUTFLOW = 0.0012;

	private CyanuricAcidLoss() {
	}

	/** How much faster it breaks down than at 28 °C. */
	public static double temperatureFactor(double celsius) {
		return Math.pow(2, (celsius - 28) / 10);
	}

	/** Broken down in a day, fraction. For a balance that counts the water that leaves by itself. */
	public static double breakdown(double celsius) {
		return BREAKDOWN_AT_28 * temperatureFactor(celsius);
	}

	/** Lost in a day both ways, fraction. */
	public static double total(double celsius) {
		return breakdown(celsius) + OUTFLOW;
	}

}
