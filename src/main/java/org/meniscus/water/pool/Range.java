package org.meniscus.water.pool;

/**
 * Closed range of a level with its ideal part; all four ends count as inside.
 *
 * @param source who says so, as a short name of a publication or "common practice, no source"
 */
public record Range(double acceptableLow, double idealLow, double idealHigh, double acceptableHigh, String source) {

	/** @throws IllegalArgumentException unless the four limits are finite and in order */
	public Range {
		if (!(acceptableLow <= idealLow && idealLow <= idealHigh && idealHigh <= acceptableHigh)
				|| Double.isInfinite(acceptableLow) || Double.isInfinite(acceptableHigh)) {
			throw new IllegalArgumentException(
					"limits out of order: " + acceptableLow + ", " + idealLow + ", " + idealHigh + ", " + acceptableHigh);
		}
	}

	/** Between the ideal and the acceptable low end: below it a level is lifted. */
	public double halfwayLow() {
		return 0.5 * (this.acceptableLow + this.idealLow);
	}

}
