package org.meniscus.water.pool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TestMethodsTests {

	private static final TestMethods MIXED = TestMethods.USUAL.with(Level.CYA, new TestMethod(TestKit.PHOTOMETER, 1))
		.with(Level.FC, new TestMethod(TestKit.DROPS_10_ML, TestMethod.HALF));

	@Test
	void eachLevelHasItsOwnTestAndChlorineOne() {
		assertThat(MIXED.precision(Level.CYA)).isEqualTo(TestPrecision.PHOTOMETER);
		assertThat(MIXED.precision(Level.TA)).isEqualTo(TestPrecision.TITRATION);
		for (Level level : List.of(Level.FC, Level.TC, Level.CC, Level.BROMINE)) {
			assertThat(MIXED.method(level)).isEqualTo(new TestMethod(TestKit.DROPS_10_ML, 2));
		}
		assertThat(MIXED.with(Level.FC, new TestMethod(TestKit.DROPS_25_ML, 1)).own()).containsOnlyKeys(Level.CYA);
	}

	/**
	 * CYA 160 in the pool is 80 in the tube: the tube's error there, by hand 11.0369 ({@link TestPrecisionTests}), doubles. FC 20 by drops of 10
	 * mL in a fifth: 6 % of 4, 0.15 and 0.5/√12, 0.3177 by hand, five times.
	 */
	@ParameterizedTest
	@CsvSource({ "CYA, DROPS_25_ML, 2, 160, 22.0738", "FC, DROPS_10_ML, 5, 20, 1.5885" })
	void dilutionMultipliesTheErrorOfTheTest(Level level, TestKit kit, int parts, double value, double deviation) {
		assertThat(new TestMethod(kit, parts).precision(level).standardDeviation(value)).isCloseTo(deviation, within(1e-3))
			.isCloseTo(parts * kit.precision(level).standardDeviation(value / parts), within(1e-9));
	}

	@Test
	void stripsDecideNoDrainOnWhatTheyRead() {
		TestMethods methods = TestMethods.USUAL.with(Level.CYA, new TestMethod(TestKit.STRIPS, 1));
		assertThat(methods.decidesDrain(Level.CYA)).isFalse();
		assertThat(methods.decidesDrain(Level.CH)).isTrue();
		assertThat(TestMethods.of(TestKit.STRIPS).decidesDrain(Level.CH)).isFalse();
	}

	@Test
	void comesBackAsStored() {
		assertThat(MIXED.marks()).containsExactly("FC DROPS_10_ML 2", "CYA PHOTOMETER 1");
		assertThat(TestMethods.parse(null, MIXED.marks())).isEqualTo(MIXED);
		assertThat(TestMethods.parse("STRIPS", List.of())).isEqualTo(new TestMethods(TestKit.STRIPS, Map.of()));
	}

	@ParameterizedTest
	@ValueSource(strings = { "FC", "FC DROPS_10_ML", "FC DROPS_10_ML 3", "FC DROPS 1", "X STRIPS 1" })
	void otherMarksAreRefused(String mark) {
		assertThatIllegalArgumentException().isThrownBy(() -> TestMethods.parse(null, List.of(mark)));
	}

	/** The tube reads CYA whatever the sample of the drops; a conductivity meter salt. */
	@ParameterizedTest
	@CsvSource({ "FC, 4", "PH, 2", "CYA, 3", "SALT, 2", "TA, 4", "COPPER, 3" })
	void kitsThatReadAlikeStandOnce(Level level, int kits) {
		assertThat(TestKit.of(level)).hasSize(kits).startsWith(TestKit.DROPS_25_ML).endsWith(TestKit.STRIPS);
	}

}
