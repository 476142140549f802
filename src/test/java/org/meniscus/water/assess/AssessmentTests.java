package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.HashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.assess.LevelState.Direction;
import org.meniscus.water.assess.LevelState.State;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.Targets;
import org.meniscus.water.units.Temperature;

/** Readings against the ranges of a pool, and the lowest FC. */
class AssessmentTests {

	private static final PoolFacts OUTDOORS = Pools.plaster(15_000);

	private static final PoolFacts INDOORS = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, true, Sanitizer.CHLORINE_BY_HAND);

	private static final PoolFacts SPA = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);

	private static final PoolFacts BROMINE = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.BROMINE);

	private static final TreatmentPolicy POLICY = TreatmentPolicy.defaults();

	private static final TreatmentPolicy BY_ACID = POLICY.withMinimumRule(MinimumRule.HYPOCHLOROUS_ACID);

	/** Model code values of 1, 2 with CYA and 3 in a spa (Service Industry News, April 2022); CYA / 20 (Falk et al. 2019). */
	@ParameterizedTest
	@CsvSource(nullValues = "-", value = { "-, 2", "0, 1", "10, 2", "40, 2", "60, 3", "100, 5" })
	void lowestChlorineFollowsTheCodeAndTheStabilizer(@Nullable Double cya, double minimum) {
		assertThat(minimum(OUTDOORS, cya)).isEqualTo(minimum);
		assertThat(minimum(INDOORS, (cya == null) ? Double.valueOf(0) : cya)).as("indoors").isEqualTo((cya == null) ? 1 : minimum);
		assertThat(minimum(SPA, cya)).as("spa").isEqualTo(Math.max(3, minimum));
	}

	@Test
	void withoutATestOfStabilizerIndoorWaterHasNone() {
		assertThat(minimum(INDOORS, null)).isEqualTo(1);
	}

	@Test
	void lowestChlorineOfThePoolItselfHoldsWhenItIsHigher() {
		assertThat(minimum(withFc(OUTDOORS, new Range(4, 5, 6, 8, "pool")), 40.0)).isEqualTo(4);
		assertThat(minimum(withFc(OUTDOORS, new Range(0.5, 1, 2, 8, "pool")), 40.0)).as("never under the code").isEqualTo(2);
	}

	/**
	 * By the acid the ratio holds at pH 7.5 and 25 °C whatever the CYA, to the 5 % that the second chlorine on a cyanurate makes; a
	 * higher pH asks for more. What comes out holds as much acid as 2 ppm of FC with 40 ppm of CYA.
	 */
	@ParameterizedTest
	@ValueSource(doubles = { 60, 80, 120 })
	void lowestChlorineByItsAcidTakesThePhIntoAccount(double cya) {
		Readings readings = Readings.builder().ph(7.5).ta(150.0).ch(250.0).cya(cya).salt(1000.0).celsius(25.0).build();
		double minimum = Assessor.fcMinimum(OUTDOORS, readings, BY_ACID);
		assertThat(minimum).isCloseTo(cya / 20, within(0.05 * cya / 20));
		double before = minimum;
		for (double ph = 7.6; ph < 8.3; ph += 0.1) {
			double more = Assessor.fcMinimum(OUTDOORS, readings.toBuilder().ph(ph).build(), BY_ACID);
			assertThat(more).as("pH %s", ph).isGreaterThan(before);
			before = more;
		}
		double twoPpm = Speciation.of(Water.of(7.5, 100, 250, 40, 2, 1000, 0, Temperature.ofCelsius(25))).hocl();
		assertThat(Speciation.of(Water.of(7.5, 150, 250, cya, minimum, 1000, 0, Temperature.ofCelsius(25))).hocl())
			.isCloseTo(twoPpm, within(1e-6 * twoPpm));
	}

	@Test
	void lowestChlorineByItsAcidNeedsStabilizerAndPh() {
		assertThat(Assessor.fcMinimum(OUTDOORS, Readings.builder().cya(80.0).build(), BY_ACID)).as("no pH: the ratio").isEqualTo(4);
		assertThat(Assessor.fcMinimum(OUTDOORS, Readings.builder().cya(0.0).ph(8.0).build(), BY_ACID)).as("no CYA: the code").isEqualTo(1);
	}

	/** Rows V001, V009, V031 and V041 of grid-speciation-si.csv: hypochlorous acid that so much FC gives. */
	@ParameterizedTest
	@CsvSource({ "7.5, 50, 0.018151, 3", "8.2, 50, 0.015204, 3", "7.5, 100, 0.0087145, 3", "7.5, 50, 0.23825, 20" })
	void chlorineForSoMuchAcidIsThatOfTheReference(double ph, double cya, double hocl, double fc) {
		Water water = Water.of(ph, 100, 300, cya, 0, 1000, 0, Temperature.ofCelsius(28));
		assertThat(ActiveChlorine.freeChlorineFor(water, hocl)).isCloseTo(fc, within(0.01 * fc));
	}

	@Test
	void rangeOfChlorineReachesFromItsMinimumToTheCeiling() {
		assertThat(fcRange(40, POLICY)).extracting(Range::acceptableLow, Range::idealLow, Range::idealHigh, Range::acceptableHigh)
			.containsExactly(2.0, 2.0, 4.0, 4.0);
		assertThat(fcRange(60, TreatmentPolicy.withCeiling(10)))
			.extracting(Range::acceptableLow, Range::idealLow, Range::idealHigh, Range::acceptableHigh)
			.containsExactly(2.0, 3.0, 4.0, 10.0);
		assertThat(fcRange(100, TreatmentPolicy.withCeiling(10)))
			.extracting(Range::acceptableLow, Range::idealLow, Range::idealHigh, Range::acceptableHigh)
			.containsExactly(100 / 45.0, 5.0, 5.0, 10.0);
		assertThat(fcRange(100, POLICY)).extracting(Range::acceptableLow, Range::idealLow, Range::idealHigh, Range::acceptableHigh)
			.as("no room for 5 below 4")
			.containsExactly(100 / 45.0, 4.0, 4.0, 4.0);
		Map<Level, Range> none = new HashMap<>(OUTDOORS.targets().ranges());
		none.remove(Level.FC);
		Readings readings = Pools.balanced().build();
		assertThat(Assessor.fcRange(OUTDOORS.withTargets(new Targets(none)), readings, TreatmentPolicy.withCeiling(6), 2))
			.extracting(Range::acceptableLow, Range::idealLow, Range::idealHigh, Range::acceptableHigh)
			.containsExactly(2.0, 2.0, 6.0, 6.0);
	}

	@Test
	void rangeOfChlorineSaysWhereItsMinimumComesFrom() {
		assertThat(fcRange(40, POLICY).source()).startsWith("model code values");
		assertThat(fcRange(60, POLICY).source()).contains("ideal by the CYA to FC ratio").endsWith("upper end by company policy");
		assertThat(fcRange(60, BY_ACID).source()).contains("hypochlorous acid");
	}

	@Test
	void whatWasNotTestedIsNotAssessed() {
		Assessment nothing = Assessment.of(OUTDOORS, Readings.none(), POLICY);
		assertThat(nothing.states()).isEmpty();
		assertThat(nothing.levels().values()).isEmpty();
		assertThat(nothing.reasons()).isEmpty();
		assertThat(nothing.fcMinimum()).isEqualTo(2);
		assertThat(nothing.fcCeiling()).isEqualTo(4);
		assertThat(nothing.state(Level.PH)).isNull();
		assertThat(nothing.is(Level.PH, State.IN_RANGE, Direction.INSIDE)).isFalse();
	}

	@Test
	void mostUrgentIsSaidFirst() {
		Readings readings = Pools.balanced().fc(1.0).ph(7.3).ta(250.0).cya(90.0).drainVisible(false).build();
		Assessment assessment = Assessment.of(OUTDOORS, readings, POLICY);
		assertThat(assessment.reasons()).extracting(Reason::code)
			.containsExactly("fc.no-room", "drain.not-visible", "state.out-low", "state.out-high", "state.drifting-low",
					"state.drifting-high");
		assertThat(assessment.reasons().get(0).args()).startsWith(Term.of(Level.CYA, 90), Term.of(Level.FC, 4.5), Term.of(Level.FC, 4));
		assertThat(assessment.is(Level.FC, State.OUT_OF_RANGE, Direction.LOW)).isTrue();
		assertThat(assessment.is(Level.FC, State.OUT_OF_RANGE, Direction.HIGH)).isFalse();
		assertThat(assessment.is(Level.FC, State.DRIFTING, Direction.LOW)).isFalse();
		assertThat(assessment.is(Level.CYA, State.DRIFTING, Direction.HIGH)).isTrue();
	}

	@Test
	void noRoomIsLeftWhereTheMinimumReachesTheCeiling() {
		assertThat(Assessor.minimumPassesCeiling(4, 4)).as("the trade table: above CYA 80").isFalse();
		assertThat(Assessor.minimumPassesCeiling(4.01, 4)).isTrue();
		assertThat(Assessor.minimumReachesCeiling(4, 4)).isTrue();
		assertThat(codes(Pools.balanced().cya(80.0).fc(4.0))).doesNotContain("fc.no-room");
		assertThat(codes(Pools.balanced().cya(81.0).fc(4.0))).contains("fc.no-room");
	}

	@Test
	void drainIsSaidOnlyWhenSomebodyLooked() {
		assertThat(codes(Pools.balanced())).isEmpty();
		assertThat(codes(Pools.balanced().drainVisible(null))).isEmpty();
		assertThat(codes(Pools.balanced().drainVisible(false))).containsExactly("drain.not-visible");
	}

	@Test
	void eachPoolIsAssessedByItsOwnSanitizer() {
		Readings both = Readings.builder().fc(3.0).cc(0.1).cya(30.0).bromine(4.0).ph(7.5).ta(100.0).build();
		Range any = new Range(0, 1, 50, 100, "own");
		PoolFacts bromine = BROMINE
			.withTargets(BROMINE.targets().with(Map.of(Level.FC, any, Level.CC, any, Level.TC, any, Level.CYA, any)));
		assertThat(Assessment.of(bromine, both, POLICY).states()).containsOnlyKeys(Level.BROMINE, Level.PH, Level.TA);
		assertThat(Assessment.of(bromine, both, POLICY).fcMinimum()).isNull();
		PoolFacts chlorine = OUTDOORS.withTargets(OUTDOORS.targets().with(Map.of(Level.BROMINE, any, Level.TC, any)));
		assertThat(Assessment.of(chlorine, both, POLICY).states()).containsOnlyKeys(Level.FC, Level.CC, Level.TC, Level.CYA, Level.PH,
				Level.TA);
	}

	/** "Less than 30" is judged as it was read, though the chemistry works with 15. */
	@Test
	void markOfTheTubeIsJudgedAsItWasRead() {
		LevelState cya = Assessment.of(OUTDOORS, Pools.balanced().cya(30.0, ReadingQualifier.BELOW).build(), POLICY).state(Level.CYA);
		assertThat(cya).isNotNull();
		assertThat(cya.value()).isEqualTo(30);
		assertThat(cya.qualifier()).isEqualTo(ReadingQualifier.BELOW);
		assertThat(cya.direction()).isEqualTo(Direction.LOW);
	}

	/**
	 * Example e14 of worked-examples.csv: pH 7.5, CH 125, TA 150, 84 °F, TDS 900 are 0.0 by rounded factors. Above 1,000 of TDS the
	 * constant is 0.1 more. A factor of 0.32 lies between 0.31 at pH 7.4 and 0.33 at 7.6 (saturation-index-factors.csv).
	 */
	@Test
	void tradeIndexIsThatOfThePublishedExample() {
		Readings.Builder example = Readings.builder().ph(7.5).ch(125.0).ta(150.0).celsius((84 - 32) / 1.8).tds(900.0);
		double index = tradeIndex(example);
		assertThat(index).isCloseTo(0.0, within(0.05));
		assertThat(tradeIndex(example.tds(1500.0))).isCloseTo(index - 0.1, within(1e-9));
		assertThat(tradeIndex(example.tds(null).salt(1500.0))).as("salt in place of TDS").isCloseTo(index - 0.1, within(1e-9));
		assertThat(tradeIndex(example.tds(null).salt(900.0))).isCloseTo(index, within(1e-9));
		assertThat(tradeIndex(example.cya(90.0))).isCloseTo(index + Math.log10((150 - 0.32 * 90) / 150), within(0.005));
	}

	/** 0.12 mg/L of alkalinity in each mg/L of boron at pH 7.6, derived (section 6 of the reference's README). */
	@Test
	void tradeIndexCountsNoBorateAsCarbonate() {
		Readings.Builder example = Readings.builder().ph(7.6).ch(125.0).ta(100.0).celsius(27.0).tds(900.0);
		double index = tradeIndex(example);
		assertThat(tradeIndex(example.borate(50.0))).isCloseTo(index + Math.log10((100 - 0.12 * 50) / 100), within(0.005));
	}

	@Test
	void tradeIndexNeedsAllItsFactors() {
		Readings full = Readings.builder().ph(7.5).ch(125.0).ta(150.0).celsius(27.0).build();
		assertThat(Assessment.of(INDOORS, full, POLICY).tradeIndex()).isNotNull();
		for (Readings part : List.of(full.toBuilder().ph(null).build(), full.toBuilder().ch(null).build(),
				full.toBuilder().ta(null).build(), full.toBuilder().celsius(null).build(), full.toBuilder().ch(0.0).build(),
				full.toBuilder().ta(0.0).build(), full.toBuilder().ta(40.0).cya(130.0).build())) {
			assertThat(Assessment.of(INDOORS, part, POLICY).tradeIndex()).as("%s", part).isNull();
		}
	}

	private static double tradeIndex(Readings.Builder readings) {
		Double index = Assessment.of(INDOORS, readings.build(), POLICY).tradeIndex();
		assertThat(index).isNotNull();
		return index;
	}

	private static double minimum(PoolFacts pool, @Nullable Double cya) {
		return Assessor.fcMinimum(pool, Readings.builder().cya(cya).build(), POLICY);
	}

	private static Range fcRange(double cya, TreatmentPolicy policy) {
		Readings readings = Pools.balanced().cya(cya).build();
		return Assessor.fcRange(OUTDOORS, readings, policy, Assessor.fcMinimum(OUTDOORS, readings, policy));
	}

	private static PoolFacts withFc(PoolFacts pool, Range range) {
		return pool.withTargets(pool.targets().with(Map.of(Level.FC, range)));
	}

	private static List<String> codes(Readings.Builder readings) {
		return Assessment.of(OUTDOORS, readings.build(), POLICY)
			.reasons()
			.stream()
			.map(Reason::code)
			.filter(code -> !code.startsWith("state."))
			.toList();
	}

	@Test
	void moreStabilizerNeverAsksForLessChlorine() {
		double before = 0;
		for (double cya = 0; cya <= 200; cya += 5) {
			double held = Assessor.fcToHold(OUTDOORS, Readings.builder().cya(cya).build(), POLICY);
			assertThat(held).as("CYA %s", cya).isBetween(before, Math.max(4, cya / 45));
			before = held;
		}
	}

}
