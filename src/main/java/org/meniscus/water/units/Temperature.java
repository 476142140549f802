package org.meniscus.water.units;

/**
 * A temperature of water or air, in degrees Celsius.
 *
 * @param celsius finite and not below absolute zero, otherwise {@link IllegalArgumentException}
 */
public record Temperature(double celsius) implements Comparable<Temperature> {

	private static final double ZERO_CELSIUS_IN_KELVIN = 273.15;

	public Temperature {
		if (!(celsius >= -ZERO_CELSIUS_IN_KELVIN) || Double.isInfinite(celsius)) {
			throw new IllegalArgumentException("not a temperature: " + celsius + " °C");
		}
	}

	public static Temperature ofCelsius(double celsius) {
		return new Temperature(celsius);
	}

	public static Temperature ofFahrenheit(double fahrenheit) {
		return new Temperature((fahrenheit - 32) / 1.8);
	}

	public double fahrenheit() {
		return this.celsius * 1.8 + 32;
	}

	public double kelvin() {
		return this.celsius + ZERO_CELSIUS_IN_KELVIN;
	}

	@Override
	public int compareTo(Temperature other) {
		return Double.compare(this.celsius, other.celsius);
	}

	@Override
	public String toString() {
		return this.celsius + " °C";
	}

}
