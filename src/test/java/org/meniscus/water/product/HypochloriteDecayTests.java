package org.meniscus.water.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Objects;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.support.Draws;
import org.meniscus.water.units.Temperature;

class HypochloriteDecayTests {

	/**
	 * Log10 of k in L/(mol s) worked out by hand from Adam and Gordon, Inorganic Chemistry 38 (1999) 1299: at 25 °C
	 * {@code log(2.083e10 x 298.15) - 101,800 / (2.302585 x 8.314 x 298.15) - 56.5 / (2.302585 x 8.314)} = 12.7931 - 17.8358 - 2.9514
	 * and 0.149 a mol/L of ionic strength on top.
	 */
	@ParameterizedTest(name = "at {0} °C and {1} mol/L {2}")
	@CsvSource({ "25, 0, -7.9941", "25, 1, -7.8451", "25, 6, -7.1001", "15, 3, -8.1812", "45, 3, -6.3963" })
	void rateIsThatOfThePublishedEquation(double celsius, double ionicStrength, double log10) {
		assertThat(Math.log10(HypochloriteDecay.rateConstant(ionicStrength, Temperature.ofCelsius(celsius)) / 86_400)).isCloseTo(log10,
				within(0.002));
	}

	/** Maker's handbook, powellfab.com: 3.5 times as fast for 10 °C more; the equation has 4.1 at 20 °C and 3.6 at 40. */
	@ParameterizedTest
	@CsvSource({ "20", "25", "30", "35", "40" })
	void tenDegreesMoreAreAboutThreeAndAHalfTimesTheRate(double celsius) {
		double factor = HypochloriteDecay.rateConstant(3, Temperature.ofCelsius(celsius + 10))
				/ HypochloriteDecay.rateConstant(3, Temperature.ofCelsius(celsius));
		assertThat(factor).isCloseTo(3.5, withinPercentage(20));
	}

	/** Chlorine Institute, dilution of hypochlorite (2003): at half the strength a quarter of the rate, all other conditions the same. */
	@Test
	void halfTheStrengthDecaysAtAQuarterOfTheRate() {
		double rate = HypochloriteDecay.rateConstant(2, Temperature.ofCelsius(25));
		assertThat(rate * 1.4 * 1.4 / (rate * 0.7 * 0.7)).isCloseTo(4, within(1e-9));
		double day = 1e-3;
		double strong = 125 * (1 - HypochloriteDecay.remaining(125, day, Temperature.ofCelsius(25)));
		double weak = 62.5 * (1 - HypochloriteDecay.remaining(62.5, day, Temperature.ofCelsius(25)));
		// the salt of the stronger one makes it faster still, by 0.149 of the difference in ionic strength
		assertThat(strong / weak).isCloseTo(4 * Math.pow(10, 0.149 * 2 * 62.5 / 70.906), within(0.01));
	}

	/** Trade table: liquid chlorine loses about 20 to 30 % a month in summer heat (from memory), household bleach keeps for 6 to 12 months. */
	@Test
	void lossesAreThoseTheTradeTells() {
		Temperature summer = Temperature.ofFahrenheit(88);
		assertThat(1 - HypochloriteDecay.remaining(125, 30, summer)).isBetween(0.2, 0.3);
		Temperature room = Temperature.ofFahrenheit(70);
		assertThat(1 - HypochloriteDecay.remaining(60, 365, room)).isBetween(0.1, 0.3);
	}

	/** A second-order loss: half the time takes what is left of the strength after one half to after the other, at the batch's rate. */
	@Test
	void reciprocalOfTheStrengthRisesEvenly() {
		Random random = new Random(71);
		for (int i = 0; i < Draws.COUNT; i++) {
			double strength = 20 + 130 * random.nextDouble();
			double days = 200 * random.nextDouble();
			Temperature temperature = Temperature.ofCelsius(5 + 40 * random.nextDouble());
			double left = HypochloriteDecay.remaining(strength, days, temperature);
			double later = HypochloriteDecay.remaining(strength, 2 * days, temperature);
			assertThat(1 / later - 1 / left).isCloseTo(1 / left - 1, within(1e-9));
			assertThat(left).isBetween(later, 1.0);
			assertThat(HypochloriteDecay.remaining(strength + 1, days, temperature)).isLessThanOrEqualTo(left);
			assertThat(HypochloriteDecay.remaining(strength, days, Temperature.ofCelsius(temperature.celsius() + 1)))
				.isLessThanOrEqualTo(left);
		}
	}

	@Test
	void nothingIsLostAtOnce() {
		assertThat(HypochloriteDecay.remaining(125, 0, Temperature.ofCelsius(40))).isEqualTo(1);
	}

	@Test
	void strengthAndTimeMustBePossible() {
		Temperature room = Temperature.ofCelsius(20);
		assertThatIllegalArgumentException().isThrownBy(() -> HypochloriteDecay.remaining(0, 1, room));
		assertThatIllegalArgumentException().isThrownBy(() -> HypochloriteDecay.remaining(Double.NaN, 1, room));
		assertThatIllegalArgumentException().isThrownBy(() -> HypochloriteDecay.remaining(100, -1, room));
	}

	@Test
	void agedProductBringsLessChlorineForTheSameAmount() {
		Product fresh = Product.usual("p", ProductKind.LIQUID_CHLORINE_125);
		Product aged = fresh.aged(40, StorageTemperature.HOT);
		double left = HypochloriteDecay.remaining(125, 40, StorageTemperature.HOT.mean());
		assertThat(Objects.requireNonNull(aged.strength())).isCloseTo(0.125 * left, within(0.000_005));
		assertThat(aged.age()).isEqualTo(new ProductAge(0.125, 40, StorageTemperature.HOT));
		assertThat(ProductEffects.concentration(aged, 1000, 50_000) / ProductEffects.concentration(fresh, 1000, 50_000)).isCloseTo(left,
				within(1e-4));
		assertThat(aged.withOnTruck(false).age()).isEqualTo(aged.age());
		assertThat(aged.withStrength(0.1, StrengthBasis.TRADE).age()).isNull();
	}

	@ParameterizedTest
	@EnumSource(ProductKind.class)
	void onlyLiquidChlorineOfKnownStrengthAges(ProductKind kind) {
		Product product = Product.usual("p", kind);
		boolean ages = kind.ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE;
		assertThat(product.aged(30, StorageTemperature.SHADE).equals(product)).isEqualTo(!ages);
		assertThat(product.aged(0, StorageTemperature.HOT)).isEqualTo(product);
		assertThat(product.aged(-5, StorageTemperature.HOT)).isEqualTo(product);
		Product unknown = product.withStrength(null, null);
		assertThat(unknown.aged(30, StorageTemperature.SHADE)).isEqualTo(unknown);
	}

	@Test
	void batchWithLessThanThreeFifthsLeftIsTooOld() {
		ProductAge age = new ProductAge(0.125, 60, StorageTemperature.HOT);
		assertThat(age.tooOld(0.0751)).isFalse();
		assertThat(age.tooOld(0.0749)).isTrue();
		assertThat(age.lost(0.05)).isCloseTo(0.6, within(1e-12));
		assertThatIllegalArgumentException().isThrownBy(() -> new ProductAge(0, 1, StorageTemperature.COOL));
		assertThatIllegalArgumentException().isThrownBy(() -> new ProductAge(0.1, 0, StorageTemperature.COOL));
	}

}
