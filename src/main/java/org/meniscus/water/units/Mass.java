package org.meniscus.water.units;

/**
 * A mass of a product or a substance, in grams, zero or more.
 *
 * @param grams finite and not negative, otherwise {@link IllegalArgumentException}
 */
public record Mass(double grams) implements Comparable<Mass> {

	/** Grams in one avoirdupois pound: exact by international agreement. */
	public static final double GRAMS_PER_POUND = 453.59237;

	/** Grams in one avoirdupois ounce: exact, 1/16 of a pound. */
	public static final double GRAMS_PER_OUNCE = 28.349523125;

	public Mass {
		if (!(grams >= 0) || Double.isInfinite(grams)) {
			throw new IllegalArgumentException("not a mass: " + grams + " g");
		}
	}

	public static Mass ofGrams(double grams) {
		return new Mass(grams);
	}

	public static Mass ofPounds(double pounds) {
		return new Mass(pounds * GRAMS_PER_POUND);
	}

	public static Mass ofOunces(double ounces) {
		return new Mass(ounces * GRAMS_PER_OUNCE);
	}

	@Override
	public int compareTo(Mass other) {
		return Double.compare(this.grams, other.grams);
	}

	@Override
	public String toString() {
		return this.grams + " g";
	}

}
