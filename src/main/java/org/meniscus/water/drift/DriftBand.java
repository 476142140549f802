package org.meniscus.water.drift;

/** A level in ppm: the expected value, and {@code low} to {@code high} within which it lies four times in five (80 %). */
public record DriftBand(double low, double middle, double high) {

	public double width() {
		return high - low;
	}

	/** @param day days since 1970-01-01 */
	public record Dated(long day, DriftBand band) {
	}

}
