package org.meniscus.water.units;

/** A figure with the interval it is taken to lie in; how probable that is, is said where it comes from. Unit of the figure. */
public record Band(double low, double middle, double high) {

	/** @throws IllegalArgumentException unless low ≤ middle ≤ high */
	public Band {
		if (!(low <= middle) || !(middle <= high)) {
			throw new IllegalArgumentException("not a band: " + low + ", " + middle + ", " + high);
		}
	}

	/** The interval, widened where needed to hold the figure: the mean of a skew distribution may lie outside its 80 % interval. */
	public static Band around(double low, double middle, double high) {
		return new Band(Math.min(low, middle), middle, Math.max(middle, high));
	}

	public double width() {
		return this.high - this.low;
	}

}
