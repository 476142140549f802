package org.meniscus.water.units;

/**
 * A volume of water or of a liquid product, in litres, zero or more.
 *
 * @param litres finite and not negative, otherwise {@link IllegalArgumentException}
 */
public record Volume(double litres) implements Comparable<Volume> {

	/** Litres in one US liquid gallon: exact, 231 cubic inches of 2.54 cm. */
	public static final double LITRES_PER_US_GALLON = 3.785411784;

	/** Millilitres in one US fluid ounce: exact, 1/128 of a US gallon. */
	public static final double MILLILITRES_PER_US_FLUID_OUNCE = 29.5735295625;

	/** Millilitres in one US teaspoon: exact, 1/6 of a US fluid ounce. */
	public static final double MILLILITRES_PER_US_TEASPOON = MILLILITRES_PER_US_FLUID_OUNCE / 6;

	public static final double US_QUARTS_PER_GALLON = 4;

	public Volume {
		if (!(litres >= 0) || Double.isInfinite(litres)) {
			throw new IllegalArgumentException("not a volume: " + litres + " L");
		}
	}

	public static Volume ofLitres(double litres) {
		return new Volume(litres);
	}

	public static Volume ofUsGallons(double gallons) {
		return new Volume(gallons * LITRES_PER_US_GALLON);
	}

	public static Volume ofUsQuarts(double quarts) {
		return new Volume(quarts * LITRES_PER_US_GALLON / US_QUARTS_PER_GALLON);
	}

	public double millilitres() {
		return this.litres * 1000;
	}

	public double cubicMetres() {
		return this.litres / 1000;
	}

	public double usGallons() {
		return this.litres / LITRES_PER_US_GALLON;
	}

	@Override
	public int compareTo(Volume other) {
		return Double.compare(this.litres, other.litres);
	}

	@Override
	public String toString() {
		return this.litres + " L";
	}

}
