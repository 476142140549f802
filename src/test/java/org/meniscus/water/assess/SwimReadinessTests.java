package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.assess.SwimReadiness.Condition;
import org.meniscus.water.assess.SwimReadiness.Evidence;
import org.meniscus.water.assess.SwimReadiness.State;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Volume;

class SwimReadinessTests {

	/** 50 m³, so that 1 g/m³ takes 50 g. */
	private static final PoolFacts POOL = pool(Sanitizer.CHLORINE_BY_HAND);

	private static final Readings GOOD = Readings.builder().fc(3.0).ph(7.5).ta(100.0).cya(40.0).build();

	@Test
	void goodWaterWithNothingAddedIsOpen() {
		SwimReadiness swim = swim(POOL, Situation.ROUTINE, GOOD);
		assertThat(swim.state()).isEqualTo(State.OPEN);
		assertThat(swim.waitHours()).isZero();
		assertThat(swim.closedUntil()).isEmpty();
	}

	/** By hand: 75 g of 65 % in 50 m³ bring 0.98 ppm; cal-hypo waits 8 hours (products.csv of the trade tables). */
	@Test
	void longestWaitOfWhatWentInIsWaitedOut() {
		SwimReadiness swim = swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.MURIATIC_3145, 0.3145, 50),
				dose(ProductKind.CAL_HYPO_65, 0.65, 75));
		assertThat(swim.state()).isEqualTo(State.AFTER_WAIT);
		assertThat(swim.waitHours()).isEqualTo(8);
		assertThat(swim.conditions().get(0)).isEqualTo(new Condition(
				Reason.of("swim.wait", new Term.Hours(8), Term.of(ProductKind.CAL_HYPO_65)), Evidence.TIME));
	}

	/** By hand: 100 g of 65 % in 50 m³ bring 1.3 ppm; the company lets people swim up to 4. */
	@Test
	void chlorineAboveTheCeilingClosesUntilATest() {
		SwimReadiness swim = swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.CAL_HYPO_65, 0.65, 100));
		assertThat(swim.state()).isEqualTo(State.CLOSED);
		assertThat(swim.needsTreatment()).as("anybody's test").isFalse();
		assertThat(swim.closedUntil()).singleElement().satisfies(reason -> {
			assertThat(reason.code()).isEqualTo("swim.fc-falls");
			assertThat(((Term.Value) reason.args().get(0)).value()).isCloseTo(4.3, within(1e-9));
			assertThat(((Term.Value) reason.args().get(1)).value()).isEqualTo(4);
		});
		assertThat(swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.TRICHLOR_TAB, 0.9, 400)).state())
			.as("tablets give theirs over days")
			.isEqualTo(State.OPEN);
	}

	@Test
	void unknownAmountOfChlorineClosesUntilATest() {
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.CAL_HYPO_65, null, 10)))).containsExactly("swim.fc");
		assertThat(codes(swim(POOL.withVolume(null, VolumeCertainty.UNVERIFIED), Situation.ROUTINE, GOOD,
				dose(ProductKind.CAL_HYPO_65, 0.65, 75))))
			.containsExactly("swim.fc");
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.THIOSULFATE, 0.99, 75)))).as("took some away")
			.containsExactly("swim.fc");
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.MURIATIC_3145, null, 75)))).containsExactly("swim.ph");
	}

	@Test
	void tooLittleChlorineClosesUntilEnoughWentIn() {
		Readings low = GOOD.toBuilder().fc(0.3).build();
		assertThat(codes(swim(POOL, Situation.ROUTINE, low))).containsExactly("swim.fc");
		assertThat(codes(swim(POOL, Situation.ROUTINE, low, dose(ProductKind.CAL_HYPO_65, 0.65, 75)))).as("1.3 ppm is under 2")
			.containsExactly("swim.fc");
		assertThat(swim(POOL, Situation.ROUTINE, low, dose(ProductKind.CAL_HYPO_65, 0.65, 150)).state()).isEqualTo(State.AFTER_WAIT);
	}

	@Test
	void whatWasNotTestedIsNotTakenToBeRight() {
		assertThat(codes(swim(POOL, Situation.ROUTINE, Readings.none()))).containsExactly("swim.fc", "swim.ph");
		assertThat(codes(swim(pool(Sanitizer.BROMINE), Situation.ROUTINE, Readings.none()))).as("not kept on chlorine")
			.containsExactly("swim.bromine", "swim.ph");
	}

	@Test
	void phOutOfRangeAndUnseenDrainCloseUntilATestOrLook() {
		Readings acid = GOOD.toBuilder().ph(6.9).drainVisible(false).build();
		SwimReadiness swim = swim(POOL, Situation.ROUTINE, acid);
		assertThat(codes(swim)).containsExactly("swim.drain", "swim.ph");
		assertThat(swim.needsTreatment()).isFalse();
		assertThat(evidence(swim(POOL, Situation.ROUTINE, GOOD), "swim.drain")).as("whoever swims looks each time")
			.isEqualTo(Evidence.SIGHT);
	}

	@Test
	void floaterIsTakenOutBeforeAnybodySwims() {
		// remove floater before swimming: products.csv of the trade tables
		assertThat(evidence(swim(pool(Sanitizer.FLOATER), Situation.ROUTINE, GOOD), "swim.floater-out")).isEqualTo(Evidence.SIGHT);
		assertThat(swim(POOL, Situation.ROUTINE, GOOD).reasons()).extracting(Reason::code).doesNotContain("swim.floater-out");
	}

	@Test
	void cloudsCloseThePoolWhereChlorineHasToClearThem() {
		assertThat(swim(POOL, Situation.CLOUDY, GOOD).state()).as("filter or calcium").isEqualTo(State.OPEN);
		assertThat(swim(POOL, Situation.CLOUDY, GOOD.toBuilder().cc(0.6).build()).needsTreatment()).isTrue();
		assertThat(swim(POOL, Situation.CLOUDY, GOOD.toBuilder().fc(1.0).build()).needsTreatment()).isTrue();
	}

	/** 0.4 ppm: model code (MAHC 5.7.3), from memory; trade facts, when it is ready to swim. */
	@ParameterizedTest
	@EnumSource(mode = EnumSource.Mode.EXCLUDE, names = { "HIGH_COMBINED_CHLORINE", "CLOSING" })
	void combinedChlorineAboveItsLimitClosesInEverySituationUntilATest(Situation situation) {
		assertThat(codes(swim(POOL, situation, GOOD.toBuilder().cc(0.5).build()))).contains("swim.combined");
		assertThat(codes(swim(POOL, situation, GOOD.toBuilder().tc(3.6).build()))).as("total minus free").contains("swim.combined");
		assertThat(codes(swim(POOL, situation, GOOD.toBuilder().cc(0.4).build()))).doesNotContain("swim.combined");
		assertThat(evidence(swim(POOL, situation, GOOD), "swim.combined")).as("not tested: nothing speaks against it")
			.isEqualTo(Evidence.KNOWN);
	}

	/** The test reads the oxidizer for about 12 hours: Taylor Technologies, note on interference; Pool and Spa Marketing, Lowry. */
	@Test
	void noTestIsAskedForThatTheOxidizerSpoils() {
		SwimReadiness swim = swim(POOL, Situation.ROUTINE, GOOD.toBuilder().cc(1.0).build(), dose(ProductKind.MPS, 0.428, 500));
		assertThat(codes(swim)).containsExactly("swim.combined-oxidizer");
		assertThat(swim.reasons()).extracting(Reason::code).contains("swim.fc-oxidizer").doesNotContain("swim.fc", "swim.combined");
		assertThat(swim.closedUntil().get(0).args()).contains(new Term.Hours(12));
	}

	/** At least 3 ppm, in a hot tub 4: CDC, from memory; to 8: Montana ARM 37.115.1308, table, superseded version. */
	@Test
	void bromineBelowOrAboveItsRangeClosesUntilATest() {
		PoolFacts pool = pool(Sanitizer.BROMINE);
		Readings good = GOOD.toBuilder().fc(null).bromine(4.0).build();
		assertThat(swim(pool, Situation.ROUTINE, good).state()).isEqualTo(State.OPEN);
		assertThat(codes(swim(pool, Situation.ROUTINE, good.toBuilder().bromine(2.8).build()))).containsExactly("swim.bromine");
		assertThat(codes(swim(pool, Situation.ROUTINE, good.toBuilder().bromine(3.0).build()))).isEmpty();
		PoolFacts spa = PoolFacts.of(Volume.ofLitres(1500), VolumeCertainty.MEASURED, BodyOfWater.SPA, Surface.FIBREGLASS, false,
				Sanitizer.BROMINE);
		assertThat(codes(swim(spa, Situation.ROUTINE, good.toBuilder().bromine(3.8).build()))).containsExactly("swim.bromine");
		assertThat(codes(swim(spa, Situation.ROUTINE, good))).isEmpty();
		assertThat(codes(swim(pool, Situation.ROUTINE, good.toBuilder().bromine(8.4).build()))).containsExactly("swim.bromine-falls");
		assertThat(codes(swim(pool, Situation.ROUTINE, good.toBuilder().bromine(null).fc(4.0).build()))).as("chlorine says nothing here")
			.containsExactly("swim.bromine");
		assertThat(swim(pool, Situation.ROUTINE, good.toBuilder().cc(3.0).build()).state()).isEqualTo(State.OPEN);
	}

	/**
	 * By hand: 1 mg of Cl2 makes 159.81/70.90 = 2.254 mg of bromine, so 75 g of 65 % in 50 m³, 0.975 ppm of Cl2, make 2.2 ppm; 1 mg of
	 * KHSO5 makes 159.81/152.17 = 1.050 mg, so 150 g of 42.8 % make 1.35 ppm.
	 */
	@Test
	void whatOxidizesBromideMakesBromine() {
		PoolFacts pool = pool(Sanitizer.BROMINE);
		Readings none = GOOD.toBuilder().fc(null).bromine(0.0).build();
		assertThat(codes(swim(pool, Situation.ROUTINE, none, dose(ProductKind.CAL_HYPO_65, 0.65, 150)))).as("no test shows bromide")
			.containsExactly("swim.bromine");
		assertThat(codes(swim(pool, Situation.ROUTINE, none, dose(ProductKind.MPS, 0.428, 150)))).containsExactly("swim.bromine");
		assertThat(PoolWater.of(pool, none)
			.after(List.of(dose(ProductKind.CAL_HYPO_65, 0.65, 75), dose(ProductKind.MPS, 0.428, 150)), 50_000.0)
			.bromine()).isCloseTo(2.198 + 1.349, within(0.005));
		assertThat(codes(swim(pool, Situation.ROUTINE, none.toBuilder().bromine(4.0).build(), dose(ProductKind.MPS, null, 150))))
			.as("unknown amount")
			.containsExactly("swim.bromine");
	}

	/** By hand: half of 80 ppm of CYA is left, for which CYA/20 asks for 2 ppm; 1 of 2 ppm of FC, and 75 g of 65 % bring 0.98. */
	@Test
	void replacedWaterTakesItsChlorineAndStabilizerAlong() {
		Readings stabilized = GOOD.toBuilder().cya(80.0).fc(2.0).build();
		assertThat(SwimReadiness.of(POOL, stabilized, Situation.ROUTINE, TreatmentPolicy.defaults(), 0.5,
				List.of(dose(ProductKind.CAL_HYPO_65, 0.65, 100)))
			.state()).isEqualTo(State.AFTER_WAIT);
		assertThat(codes(SwimReadiness.of(POOL, stabilized, Situation.ROUTINE, TreatmentPolicy.defaults(), 0.5,
				List.of(dose(ProductKind.CAL_HYPO_65, 0.65, 75)))))
			.containsExactly("swim.fc-refilled");
	}

	/** Closed above a CYA to FC ratio of 45: ranges.csv, row MAHC with CYA, note on the 4th edition. At a ceiling of 4 ppm from CYA 180. */
	@Test
	void stabilizerClosesOnlyAboveTheRatioOfTheModelCode() {
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD.toBuilder().cya(90.0).fc(2.0).build()))).isEmpty();
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD.toBuilder().cya(99.0).fc(2.2).build()))).isEmpty();
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD.toBuilder().cya(100.0).fc(2.2).build()))).containsExactly("swim.fc");
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD.toBuilder().cya(175.0).fc(3.9).build()))).isEmpty();
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD.toBuilder().cya(180.0).fc(4.0).build()))).containsExactly("swim.no-room");
	}

	/** By hand: 89 ppm of CYA and 1.5 of trichlor FC with 0.607 of CYA each make 89.9, for which 2 ppm are enough; 5 more do not. */
	@Test
	void stabilizerThatGoesInCountsForTheLeastFreeChlorine() {
		Readings stabilized = GOOD.toBuilder().cya(180.0).fc(3.99).build();
		assertThat(codes(SwimReadiness.of(POOL, stabilized, Situation.ROUTINE, TreatmentPolicy.defaults(), 0.5, List.of())))
			.as("1.995 ppm of FC with 90 of CYA")
			.containsExactly("swim.fc-refilled");
		Readings below = GOOD.toBuilder().cya(170.0).fc(3.9).build();
		assertThat(codes(swim(POOL, Situation.ROUTINE, below))).isEmpty();
		assertThat(codes(swim(POOL, Situation.ROUTINE, below, dose(ProductKind.CYA, 1.0, 600)))).as("182 of CYA")
			.containsExactly("swim.no-room");
	}

	/** A third of the CYA counts as alkalinity at pH 7.5 (total_alkalinity in reading-bounds.csv): 100 ppm of 300, but 40 were read. */
	@Test
	void doseIntoReadingsThatContradictEachOtherLeavesItToANewTest() {
		Readings contradictory = Readings.builder().fc(20.0).ph(7.5).ta(40.0).cya(300.0).build();
		assertThat(codes(swim(POOL, Situation.ROUTINE, contradictory))).as("FC and pH as tested").containsExactly("swim.no-room",
				"swim.fc-falls");
		assertThat(codes(swim(POOL, Situation.ROUTINE, contradictory, dose(ProductKind.CAL_HYPO_65, 0.65, 75))))
			.containsExactly("swim.no-room", "swim.ph");
		assertThat(codes(SwimReadiness.of(POOL, contradictory, Situation.ROUTINE, TreatmentPolicy.defaults(), 0.3, List.of())))
			.containsExactly("swim.no-room", "swim.ph");
	}

	/** 3 t of salt in 50 m³ are 60 g/L, more than sea water holds: a slip of the pen. 150 kg, 3 g/L, start up a salt cell. */
	@Test
	void doseBeyondAnyPoolLeavesItToANewTest() {
		assertThat(codes(swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.SALT, 0.99, 3_000_000)))).containsExactly("swim.fc",
				"swim.ph");
		assertThat(swim(POOL, Situation.ROUTINE, GOOD, dose(ProductKind.SALT, 0.99, 150_000)).closedUntil()).isEmpty();
	}

	/** Combined chlorine is 0.4 and 0.5 ppm, the limit and a step above it. */
	@Test
	void cloudsLackChlorineBelowTheMinimumOrAboveTheLimitOfCombined() {
		assertThat(SwimReadiness.lacksChlorine(Readings.builder().fc(2.0).tc(2.4).build(), 2)).isFalse();
		assertThat(SwimReadiness.lacksChlorine(Readings.builder().fc(1.9).tc(1.9).build(), 2)).isTrue();
		assertThat(SwimReadiness.lacksChlorine(Readings.builder().fc(2.0).tc(2.5).build(), 2)).isTrue();
		assertThat(SwimReadiness.lacksChlorine(Readings.none(), 2)).isFalse();
	}

	private static SwimReadiness swim(PoolFacts pool, Situation situation, Readings readings, RecordedDose... doses) {
		return SwimReadiness.of(pool, readings, situation, TreatmentPolicy.defaults(), null, List.of(doses));
	}

	private static List<String> codes(SwimReadiness swim) {
		return swim.closedUntil().stream().map(Reason::code).toList();
	}

	private static Evidence evidence(SwimReadiness swim, String code) {
		return swim.conditions()
			.stream()
			.filter(condition -> condition.reason().code().equals(code))
			.findFirst()
			.orElseThrow()
			.evidence();
	}

	private static PoolFacts pool(Sanitizer sanitizer) {
		return PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer);
	}

	private static RecordedDose dose(ProductKind kind, @Nullable Double strength, double amount) {
		return new RecordedDose(kind, strength, kind.basis(), amount);
	}

}
