package org.meniscus.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.product.ProductId;
import org.meniscus.report.SwimAdvice.Kind;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Volume;

class SwimAdviceAndDoseReasonTests {

	private static final Instant READY = Instant.parse("2026-11-25T23:00:00Z");

	private static final LocalDate DAY = LocalDate.of(2026, 11, 25);

	/** 50 m³, so that 1 g/m³ takes 50 g. */
	private static final PoolFacts POOL = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED, BodyOfWater.POOL, Surface.PLASTER,
			false,
			Sanitizer.CHLORINE_BY_HAND);

	private static final Readings GOOD = Readings.builder().fc(3.0).ph(7.5).cya(40.0).build();

	@Test
	void goodWaterWithNothingAddedAsksForNothing() {
		assertThat(swim(POOL, Situation.ROUTINE, GOOD, null)).isEqualTo(new SwimAdvice(null, List.of()));
	}

	/** By hand: 100 g of 65 % in 50 m³ bring 1.3 ppm, 77 g bring 1.0; the company lets people swim up to 4. */
	@Test
	void chlorineAboveTheCeilingForSwimmingAsksForATest() {
		assertThat(kinds(swim(POOL, Situation.ROUTINE, GOOD, READY, dose(ProductKind.CAL_HYPO_65, 0.65, 100.0))))
			.containsExactly(Kind.FC_DOWN);
		assertThat(kinds(swim(POOL, Situation.ROUTINE, GOOD, READY, dose(ProductKind.CAL_HYPO_65, 0.65, 75.0)))).isEmpty();
		assertThat(kinds(swim(POOL, Situation.ROUTINE, GOOD, READY, dose(ProductKind.CAL_HYPO_65, null, 10.0))))
			.as("what it brought is not known").containsExactly(Kind.FC_DOWN);
		assertThat(kinds(swim(POOL, Situation.ROUTINE, GOOD, READY, dose(ProductKind.TRICHLOR_TAB, 0.9, 400.0))))
			.as("tablets give theirs over days").isEmpty();
		assertThat(kinds(swim(POOL.withVolume(null, VolumeCertainty.UNVERIFIED), Situation.ROUTINE, GOOD, READY,
				dose(ProductKind.CAL_HYPO_65, 0.65, 75.0))))
			.containsExactly(Kind.FC_DOWN);
		Readings high = Readings.builder().fc(9.0).ph(7.5).build();
		assertThat(swim(POOL, Situation.ROUTINE, high, null).conditions()).containsExactly(SwimAdvice.Condition.of(Kind.FC_DOWN, 4.0));
	}

	@Test
	void tooLittleChlorineThatNobodyRaisedIsNoWaterToSwimIn() {
		Readings low = Readings.builder().fc(0.3).ph(7.5).cya(40.0).build();
		assertThat(swim(POOL, Situation.ROUTINE, low, null).conditions()).containsExactly(SwimAdvice.Condition.of(Kind.FC_UP, 2.0));
		assertThat(kinds(swim(POOL, Situation.ROUTINE, low, READY, dose(ProductKind.CAL_HYPO_65, 0.65, 150.0)))).isEmpty();
	}

	@Test
	void waterOutOfPhOrUnseenOrContaminatedSaysSo() {
		Readings acid = Readings.builder().fc(3.0).ph(6.9).drainVisible(false).build();
		assertThat(swim(POOL, Situation.ROUTINE, acid, READY).conditions()).containsExactly(
				SwimAdvice.Condition.of(Kind.PH_INSIDE, 7.2, 7.8),
				SwimAdvice.Condition.of(Kind.FLOOR_SEEN));
		assertThat(swim(POOL, Situation.CONTAMINATION, GOOD, READY).toldByUs()).isTrue();
		assertThat(swim(POOL, Situation.ROUTINE, GOOD, READY).toldByUs()).isFalse();
	}

	@Test
	void whyNamesTheReadingThatAskedForIt() {
		Readings readings = Readings.builder().fc(0.5).ph(7.9).ta(60.0).cya(10.0).build();
		assertThat(why(ActiveIngredient.MURIATIC_ACID, Situation.ROUTINE, readings).level()).extracting("level").isEqualTo(Level.PH);
		assertThat(why(ActiveIngredient.SODIUM_HYPOCHLORITE, Situation.ROUTINE, readings).level()).extracting("level").isEqualTo(Level.FC);
		assertThat(why(ActiveIngredient.BICARBONATE, Situation.ROUTINE, readings).level()).extracting("level").isEqualTo(Level.TA);
		assertThat(why(ActiveIngredient.SODA_ASH, Situation.ROUTINE, readings).level()).as("pH is high: soda ash was not for it, TA is low")
			.extracting("level")
			.isEqualTo(Level.TA);
		assertThat(why(ActiveIngredient.CALCIUM_CHLORIDE, Situation.ROUTINE, readings).level()).as("CH was not tested").isNull();
		assertThat(why(ActiveIngredient.MURIATIC_ACID, Situation.ROUTINE, GOOD).level()).as("pH was fine").isNull();
	}

	@Test
	void aFloaterIsTakenOutBeforeAnybodySwims() {
		// remove floater before swimming: products.csv of the trade tables
		PoolFacts floater = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED, BodyOfWater.POOL, Surface.PLASTER, false,
				Sanitizer.FLOATER);
		assertThat(kinds(swim(floater, Situation.ROUTINE, GOOD, null))).containsExactly(Kind.FLOATER_OUT);
	}

	@Test
	void whyNamesTheSituationOnlyForWhatAnswersIt() {
		assertThat(why(ActiveIngredient.CALCIUM_HYPOCHLORITE, Situation.GREEN_ALGAE_HEAVY, GOOD).situation())
			.isEqualTo(Situation.GREEN_ALGAE_HEAVY);
		assertThat(why(ActiveIngredient.MURIATIC_ACID, Situation.GREEN_ALGAE_HEAVY, GOOD).situation()).isNull();
		assertThat(why(ActiveIngredient.MONOPERSULFATE, Situation.GREEN_ALGAE_LIGHT, GOOD).situation()).as("never the answer to algae")
			.isNull();
		assertThat(why(ActiveIngredient.MONOPERSULFATE, Situation.WEEKLY_REFRESH, GOOD).situation()).isEqualTo(Situation.WEEKLY_REFRESH);
	}

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void everyProductHasAReasonInEverySituation(ActiveIngredient family) {
		for (Situation situation : Situation.values()) {
			assertThat(why(family, situation, GOOD).ingredient()).isEqualTo(family);
		}
	}

	private static SwimAdvice swim(PoolFacts pool, Situation situation, Readings readings, @Nullable Instant ready, DoseRecord... doses) {
		VisitRecord visit = new VisitRecord(new VisitId(UUID.randomUUID()), 0, new PoolId(UUID.randomUUID()),
				new PersonId(UUID.randomUUID()), "T",
				null, READY, DAY, READY, situation, readings, null, List.of(doses), List.of(), null, null, null, ready, 0, false);
		return SwimAdvice.of(visit, pool, Assessment.of(pool, readings, TreatmentPolicy.withCeiling(4)), 4);
	}

	private static List<Kind> kinds(SwimAdvice swim) {
		return swim.conditions().stream().map(SwimAdvice.Condition::kind).toList();
	}

	private static DoseReason why(ActiveIngredient family, Situation situation, Readings readings) {
		return DoseReason.of(family, situation, Assessment.of(POOL, readings, TreatmentPolicy.withCeiling(4)).states());
	}

	private static DoseRecord dose(ProductKind kind, @Nullable Double strength, double grams) {
		return new DoseRecord(0, new ProductId(UUID.randomUUID()), kind.name(), kind, strength, kind.basis(), grams, kind.unit(), null, DAY,
				null);
	}

}
