package org.meniscus.water.pool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** By hand from the table in docs/demand.md; what kits print and the trade tells: from memory. */
class TestKitTests {

	/**
	 * Root of the parts: CYA by strip 30 and 6 % of 50; TA by drops of 25: 3.5 % and 3 % of 100, 0.6 of 25, 25²/12; copper by
	 * colour: 10 % of 0.3, 0.05, 0.15²/12, manganese: 10 % of 0.05, 0.03, 0.1²/12; phosphate by photometer: 5 % and 3 % of 500, 25, 10²/12.
	 */
	@ParameterizedTest
	@CsvSource({ "DROPS_25_ML, FC, 3, 0.2343", "DROPS_10_ML, FC, 3, 0.2752", "DROPS_10_ML, TA, 100, 17.2723", "PHOTOMETER, CYA, 80, 8.3954",
			"PHOTOMETER, FC, 3, 0.1749", "STRIPS, CYA, 50, 30.1496", "STRIPS, PH, 7.5, 0.2309", "STRIPS, SALT, 3000, 314.5367",
			"DROPS_25_ML, COPPER, 0.3, 0.0726", "PHOTOMETER, PHOSPHATE, 500, 38.5141", "DROPS_25_ML, MANGANESE, 0.05, 0.0419" })
	void precisionOfKit(TestKit kit, Level level, double value, double standardDeviation) {
		assertThat(kit.precision(level).standardDeviation(value)).isCloseTo(standardDeviation, within(1e-4));
	}

	@ParameterizedTest
	@EnumSource(value = Level.class, names = { "FC", "TC", "CC", "BROMINE", "PH", "TA", "CH", "CYA", "SALT", "TDS", "BORATE" })
	void stripsAreTheCoarsestAndNoKitBeatsTheOthersInEverything(Level level) {
		for (double value : new double[]{ 0.5 * typical(level), typical(level), 2 * typical(level) }) {
			double strips = TestKit.STRIPS.precision(level).standardDeviation(value);
			assertThat(TestKit.DROPS_10_ML.precision(level).standardDeviation(value)).isLessThanOrEqualTo(strips)
				.isGreaterThanOrEqualTo(TestKit.DROPS_25_ML.precision(level).standardDeviation(value));
			assertThat(TestKit.PHOTOMETER.precision(level).standardDeviation(value)).isLessThanOrEqualTo(strips);
		}
	}

	@ParameterizedTest
	@EnumSource(TestKit.class)
	void onlyStripsDecideNoDrain(TestKit kit) {
		assertThat(kit.decidesDrain()).isEqualTo(kit != TestKit.STRIPS);
		assertThatIllegalArgumentException().isThrownBy(() -> kit.precision(Level.TEMPERATURE));
	}

	@Test
	void readingsKeepTheirKit() {
		assertThat(Readings.none().tests().kit()).isEqualTo(TestKit.DROPS_25_ML);
		Readings strips = Readings.builder().cya(50.0).kit(TestKit.STRIPS).build();
		assertThat(strips.toBuilder().ph(7.5).build().tests().kit()).isEqualTo(TestKit.STRIPS);
	}

	private static double typical(Level level) {
		return switch (level) {
			case FC, TC, BROMINE -> 3;
			case CC -> 0.4;
			case PH -> 7.5;
			case TA -> 100;
			case CH -> 300;
			case CYA -> 50;
			case SALT, TDS -> 3000;
			default -> 40;
		};
	}

}
