package org.meniscus.water.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Units are exact by definition: 231 cubic inches of 2.54 cm to the US gallon, 453.59237 g to the pound. */
class UnitsTests {

	@Test
	void usMeasuresOfVolumeAreExact() {
		assertThat(Volume.ofUsGallons(2).litres()).isCloseTo(2 * 231 * 2.54 * 2.54 * 2.54 / 1000, within(1e-12));
		assertThat(Volume.ofUsQuarts(4)).isEqualTo(Volume.ofUsGallons(1));
		assertThat(128 * Volume.MILLILITRES_PER_US_FLUID_OUNCE).isCloseTo(3785.411784, within(1e-9));
		assertThat(6 * Volume.MILLILITRES_PER_US_TEASPOON).isEqualTo(Volume.MILLILITRES_PER_US_FLUID_OUNCE);
		assertThat(Volume.ofUsGallons(3).usGallons()).isCloseTo(3, within(1e-12));
	}

	@Test
	void metricMeasuresOfVolumeAreThousands() {
		assertThat(Volume.ofLitres(1500).cubicMetres()).isEqualTo(1.5);
		assertThat(Volume.ofLitres(1.5).millilitres()).isEqualTo(1500);
	}

	@Test
	void poundsAndOuncesAreExact() {
		assertThat(Mass.ofPounds(2).grams()).isEqualTo(907.18474);
		assertThat(Mass.ofOunces(16)).isEqualTo(Mass.ofPounds(1));
	}

	@Test
	void temperaturesMeetAtTheirFixedPoints() {
		assertThat(Temperature.ofFahrenheit(212)).isEqualTo(Temperature.ofCelsius(100));
		assertThat(Temperature.ofFahrenheit(32)).isEqualTo(Temperature.ofCelsius(0));
		assertThat(Temperature.ofCelsius(40).fahrenheit()).isEqualTo(104);
		assertThat(Temperature.ofCelsius(25).kelvin()).isEqualTo(298.15);
	}

	@Test
	void whatCannotBeMeasuredIsRejected() {
		for (double impossible : new double[]{ -0.001, Double.NaN, Double.POSITIVE_INFINITY }) {
			assertThatIllegalArgumentException().isThrownBy(() -> Volume.ofLitres(impossible));
			assertThatIllegalArgumentException().isThrownBy(() -> Mass.ofGrams(impossible));
		}
		assertThatIllegalArgumentException().isThrownBy(() -> Temperature.ofCelsius(-273.16));
		assertThatIllegalArgumentException().isThrownBy(() -> Temperature.ofCelsius(Double.POSITIVE_INFINITY));
		assertThat(Volume.ofLitres(0).litres()).isZero();
		assertThat(Mass.ofGrams(0).grams()).isZero();
		assertThat(Temperature.ofCelsius(-273.15).kelvin()).isZero();
	}

	@Test
	void quantitiesAreComparedBySize() {
		assertThat(Volume.ofLitres(1)).isLessThan(Volume.ofLitres(2));
		assertThat(Mass.ofOunces(20)).isGreaterThan(Mass.ofPounds(1));
		assertThat(Temperature.ofFahrenheit(80)).isLessThan(Temperature.ofCelsius(27));
	}

}
