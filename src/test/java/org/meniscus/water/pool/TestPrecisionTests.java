package org.meniscus.water.pool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** By hand from the table in docs/demand.md. */
class TestPrecisionTests {

	/** 11 % of 50, 4 ppm, marks 8 ppm apart: 30.25 + 16 + 64/12; 6 % of 50 between persons: 9 more. */
	@Test
	void varianceIsTheSumOfItsParts() {
		assertThat(TestPrecision.TURBIDITY_TUBE.repeatabilityVariance(50)).isCloseTo(51.5833, within(1e-4));
		assertThat(TestPrecision.TURBIDITY_TUBE.variance(50)).isCloseTo(60.5833, within(1e-4));
		assertThat(TestPrecision.TURBIDITY_TUBE.standardDeviation(50)).isCloseTo(7.7835, within(1e-4));
	}

	@ParameterizedTest
	@CsvSource({ "FC, 3, 0.2343", "CC, 0.4, 0.2", "PH, 7.5, 0.1", "TA, 100, 8.0984", "CH, 250, 13.3096", "CYA, 80, 11.0369",
			"SALT, 3200, 168.2508", "BORATE, 50, 7.0238" })
	void usualTestOfEachLevel(Level level, double value, double standardDeviation) {
		assertThat(TestPrecision.usual(level).standardDeviation(value)).isCloseTo(standardDeviation, within(1e-4));
	}

	@Test
	void levelsThatAreWorkedOutHaveNoTest() {
		assertThatIllegalArgumentException().isThrownBy(() -> TestPrecision.usual(Level.SATURATION_INDEX));
	}

	/** One figure above zero is enough; none may be below, and no test is exact. */
	@ParameterizedTest
	@CsvSource({ "0.1, 0, 0, 0, true", "0, 1, 0, 0, true", "0, 0, 10, 0, true", "0, 0, 0, 0, false", "0, 0, 0, 0.1, false",
			"-0.1, 1, 1, 0, false", "0.1, -0.5, 1, 0, false", "0.1, 1, -0.5, 0, false", "0.1, 1, 1, -0.1, false", "NaN, 1, 1, 0, false" })
	void precisionsAreNotBelowZeroAndNotAllZero(double relative, double absolute, double step, double bias, boolean possible) {
		if (possible) {
			assertThat(new TestPrecision(relative, absolute, step, bias).variance(100)).isPositive();
		}
		else {
			assertThatIllegalArgumentException().isThrownBy(() -> new TestPrecision(relative, absolute, step, bias));
		}
	}

	/** Below zero a level cannot be: what is relative counts nothing there. 16 + 64/12. */
	@Test
	void belowZeroOnlyTheFixedPartsCount() {
		assertThat(TestPrecision.TURBIDITY_TUBE.variance(-50)).isCloseTo(21.3333, within(1e-4));
		assertThat(TestPrecision.TURBIDITY_TUBE.variance(-50)).isEqualTo(TestPrecision.TURBIDITY_TUBE.variance(0));
	}

	@Test
	void coarserDropsAreLessPrecise() {
		assertThat(TestPrecision.titration(25).variance(250)).isGreaterThan(TestPrecision.titration(10).variance(250));
	}

	/** CH 200 raised by 100 in a volume guessed to 17 %: 49 + 36 + 100/12 + 36 of the test, 17² of the volume. */
	@Test
	void doseAddsTheErrorOfTheVolume() {
		assertThat(MeasurementUncertainty.after(TestMethods.USUAL, Level.CH, 200, 100, VolumeCertainty.ESTIMATED)).isCloseTo(
				Math.sqrt(129.3333 + 289),
				within(1e-3));
		assertThat(MeasurementUncertainty.after(TestMethods.USUAL, Level.CH, 200, 0, VolumeCertainty.ESTIMATED))
			.isCloseTo(Math.sqrt(129.3333), within(1e-3));
	}

}
