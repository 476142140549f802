package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Set;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;

/** What is known of a water, what is assumed, and what new water and doses make of it. */
class PoolWaterTests {

	private static final PoolFacts OUTDOORS = Pools.plaster(15_000);

	private static final PoolFacts INDOORS = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, true, Sanitizer.CHLORINE_BY_HAND);

	private static final PoolFacts CELL = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);

	private static final PoolFacts SPA = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);

	private static final PoolFacts BROMINE = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.BROMINE);

	private static final Readings FULL = Readings.builder()
		.fc(3.0)
		.cc(0.4)
		.ph(7.5)
		.ta(100.0)
		.ch(300.0)
		.cya(40.0)
		.salt(1200.0)
		.tds(1800.0)
		.borate(20.0)
		.phosphate(200.0)
		.celsius(25.0)
		.build();

	/** Figures of {@link org.meniscus.water.pool.AssumedLevels}: common practice, no source. */
	@Test
	void whatNobodyTestedIsAssumedForTheEquilibriumAndNeverShown() {
		PoolWater water = PoolWater.of(OUTDOORS, Readings.none());
		assertThat(water.levels().values()).isEmpty();
		assertThat(water.water().ph()).isEqualTo(7.5);
		assertThat(water.water().totalAlkalinity()).isEqualTo(100);
		assertThat(water.water().calciumHardness()).isEqualTo(250);
		assertThat(water.water().cyanuricAcid()).isEqualTo(40);
		assertThat(water.water().freeChlorine()).isZero();
		assertThat(water.water().salt()).isEqualTo(1000);
		assertThat(water.water().borate()).isZero();
		assertThat(water.water().temperature().celsius()).isEqualTo(26);
		assertThat(PoolWater.of(CELL, Readings.none()).water().salt()).isEqualTo(3200);
		assertThat(PoolWater.of(SPA, Readings.none()).water().temperature().celsius()).isEqualTo(38);
		for (PoolFacts without : List.of(INDOORS, SPA, BROMINE)) {
			assertThat(PoolWater.of(without, Readings.none()).water().cyanuricAcid()).isZero();
		}
		assertThat(PoolWater.of(OUTDOORS, Readings.builder().tds(600.0).build()).water().salt()).as("no more salt than solids")
			.isEqualTo(600);
		assertThat(PoolWater.of(OUTDOORS, Readings.builder().tds(5000.0).build()).water().salt()).isEqualTo(1000);
		assertThat(PoolWater.of(BROMINE, FULL).water().freeChlorine()).as("what a test shows there is bromine").isZero();
	}

	@Test
	void whatWasAssumedIsSaid() {
		assertThat(PoolWater.assumptions(OUTDOORS, Readings.none())).containsExactly(assumed(Level.TEMPERATURE, 26), assumed(Level.CH, 250),
				assumed(Level.CYA, 40));
		assertThat(PoolWater.assumptions(INDOORS, Readings.none())).containsExactly(assumed(Level.TEMPERATURE, 26), assumed(Level.CH, 250));
		assertThat(PoolWater.assumptions(SPA, Readings.none())).containsExactly(assumed(Level.TEMPERATURE, 38), assumed(Level.CH, 250));
		assertThat(PoolWater.assumptions(BROMINE, Readings.none())).containsExactly(assumed(Level.TEMPERATURE, 26), assumed(Level.CH, 250));
		assertThat(PoolWater.assumptions(OUTDOORS, FULL)).isEmpty();
	}

	private static Reason assumed(Level level, double value) {
		return Reason.of("note.assumed", Term.of(level), Term.of(level, value));
	}

	@Test
	void endsOfTheTubeWorkAsTheMiddleAndTheLeast() {
		assertThat(cya(Readings.builder().cya(30.0, ReadingQualifier.BELOW).build())).isEqualTo(15);
		assertThat(cya(Readings.builder().cya(100.0, ReadingQualifier.ABOVE).build())).isEqualTo(100);
		assertThat(cya(Readings.builder().cya(30.0).build())).isEqualTo(30);
	}

	private static double cya(Readings readings) {
		return PoolWater.of(OUTDOORS, readings).water().cyanuricAcid();
	}

	@Test
	void everyTestedLevelIsShownAsRead() {
		PoolWater water = PoolWater.of(OUTDOORS, FULL);
		for (Level level : FULL.tested()) {
			assertThat(water.levels().value(level)).as(level.name()).isEqualTo(FULL.value(level));
			assertThat(water.knows(level)).isTrue();
		}
		assertThat(water.levels().value(Level.TC)).isEqualTo(3.4);
	}

	@Test
	void onlyTheSanitizerOfThePoolIsShown() {
		Readings both = FULL.toBuilder().bromine(2.0).build();
		PoolWater bromine = PoolWater.of(BROMINE, both).afterReplacing(FillWater.unknown(), 0.25);
		assertThat(bromine.levels().value(Level.BROMINE)).isCloseTo(1.5, within(1e-9));
		assertThat(bromine.levels().values()).doesNotContainKeys(Level.FC, Level.CC, Level.TC, Level.HOCL);
		assertThat(PoolWater.of(OUTDOORS, both).levels().values()).doesNotContainKey(Level.BROMINE);
	}

	@Test
	void acidAndSaturationNeedTheTestsTheyFollowFrom() {
		assertThat(PoolWater.of(OUTDOORS, FULL).levels().values()).containsKeys(Level.HOCL, Level.SATURATION_INDEX);
		for (Readings part : List.of(FULL.toBuilder().ph(null).build(), FULL.toBuilder().ta(null).build())) {
			assertThat(PoolWater.of(OUTDOORS, part).levels().values()).doesNotContainKeys(Level.HOCL, Level.SATURATION_INDEX);
		}
		for (Readings part : List.of(FULL.toBuilder().fc(null).build(), FULL.toBuilder().cya(null).build())) {
			assertThat(PoolWater.of(OUTDOORS, part).levels().values()).doesNotContainKey(Level.HOCL).containsKey(Level.SATURATION_INDEX);
		}
		for (Readings part : List.of(FULL.toBuilder().ch(null).build(), FULL.toBuilder().ch(0.0).build())) {
			assertThat(PoolWater.of(OUTDOORS, part).levels().values()).doesNotContainKey(Level.SATURATION_INDEX).containsKey(Level.HOCL);
		}
		assertThat(PoolWater.of(OUTDOORS, FULL.toBuilder().ta(20.0).cya(200.0).build()).levels().values()).as("contradictory")
			.doesNotContainKeys(Level.HOCL, Level.SATURATION_INDEX);
	}

	/** Rows of mixing-drain-refill.csv; the half ppm of FC in their fill water moves the pH by less than the tolerance there. */
	@ParameterizedTest
	@CsvSource({ "8.2, 180, 400, 80, 3, 2000, 0, 30, 8.1, 180, 300, 250, 0.30, 8.1763, 180, 370, 56, 1475, 0",
			"8.5, 160, 500, 100, 2, 4000, 30, 35, 7.8, 90, 120, 100, 0.25, 8.4765, 142.5, 405, 75, 3025, 22.5",
			"7.8, 120, 350, 50, 3, 1500, 0, 28, 7.8, 90, 120, 100, 0.2, 7.8020, 114, 304, 40, 1220, 0",
			"8.0, 80, 250, 70, 4, 3200, 50, 28, 7.8, 90, 120, 100, 0.3, 7.9925, 83, 211, 49, 2270, 35" })
	void newWaterIsMixedInAsTheReferenceMixes(double ph, double ta, double ch, double cya, double fc, double salt, double borate,
			double celsius, double fillPh, double fillTa, double fillCh, double fillSalt, double share, double phAfter, double taAfter,
			double chAfter, double cyaAfter, double saltAfter, double borateAfter) {
		Readings readings = Readings.builder()
			.fc(fc)
			.ph(ph)
			.ta(ta)
			.ch(ch)
			.cya(cya)
			.salt(salt)
			.borate(borate)
			.celsius(celsius)
			.build();
		PoolWater after = PoolWater.of(OUTDOORS, readings).afterReplacing(new FillWater(fillPh, fillTa, fillCh, fillSalt), share);
		assertThat(after.water().ph()).isCloseTo(phAfter, within(0.01));
		assertThat(after.water().totalAlkalinity()).isCloseTo(taAfter, within(0.01));
		assertThat(after.water().calciumHardness()).isCloseTo(chAfter, within(0.01));
		assertThat(after.water().cyanuricAcid()).isCloseTo(cyaAfter, within(0.01));
		assertThat(after.water().salt()).isCloseTo(saltAfter, within(0.1));
		assertThat(after.water().borate()).isCloseTo(borateAfter, within(0.01));
		assertThat(after.water().freeChlorine()).isCloseTo((1 - share) * fc, within(1e-9));
	}

	@Test
	void whatNobodyKnowsOfTheFillWaterIsTakenAsThePools() {
		PoolWater after = PoolWater.of(OUTDOORS, FULL).afterReplacing(FillWater.unknown(), 0.25);
		assertThat(after.levels().value(Level.TA)).isEqualTo(100);
		assertThat(after.levels().value(Level.CH)).isEqualTo(300);
		assertThat(after.levels().value(Level.CYA)).isEqualTo(30);
		assertThat(after.levels().value(Level.FC)).isEqualTo(2.25);
		assertThat(after.levels().value(Level.CC)).isCloseTo(0.3, within(1e-9));
		assertThat(after.levels().value(Level.PHOSPHATE)).isCloseTo(150, within(1e-9));
		assertThat(after.levels().value(Level.BORATE)).isCloseTo(15, within(1e-9));
		assertThat(after.levels().value(Level.SALT)).as("300 ppm assumed in it").isCloseTo(0.75 * 1200 + 0.25 * 300, within(1e-9));
		assertThat(after.levels().value(Level.TDS)).isCloseTo(0.75 * 1800 + 0.25 * 300, within(1e-9));
		assertThat(after.levels().value(Level.TEMPERATURE)).isEqualTo(25);
		PoolWater fresh = PoolWater.of(OUTDOORS, FULL.toBuilder().salt(100.0).build()).afterReplacing(FillWater.unknown(), 0.25);
		assertThat(fresh.levels().value(Level.SALT)).as("not more than the pool has").isEqualTo(100);
	}

	/** By hand: hydroxide alone holds 5 ppm of alkalinity at pH 10, so 2 ppm contradict it; with none at all even pH 7.5 does. */
	@Test
	void fillWaterThatContradictsItselfTakesAUsualPh() {
		PoolWater water = PoolWater.of(OUTDOORS, FULL);
		assertThat(water.afterReplacing(new FillWater(10.0, 2.0, 0.0, 0.0), 1).water().ph()).isCloseTo(7.5, within(1e-6));
		assertThat(water.afterReplacing(new FillWater(10.0, 0.0, 0.0, 0.0), 1).water().ph()).isCloseTo(6.5, within(1e-6));
		assertThat(water.afterReplacing(new FillWater(8.4, 60.0, 0.0, 0.0), 1).water().ph()).isCloseTo(8.4, within(1e-6));
	}

	/** By hand, in 10 m³: a solid's own weight; 10 ppm of liquid chlorine leave 16.5 ppm of salt (side-effects.csv); acid none. */
	@ParameterizedTest
	@CsvSource({ "BICARB, 500, 50", "CAL_CHLORIDE_77, 1000, 100", "LIQUID_CHLORINE_125, 800, 16.485", "MURIATIC_3145, 500, 0" })
	void dissolvedSolidsGrowByWhatIsDosed(ProductKind kind, double amount, double added) {
		PoolWater after = PoolWater.of(OUTDOORS, FULL).after(Product.usual("p", kind), amount, 10_000);
		assertThat(after.levels().value(Level.TDS)).isCloseTo(1800 + added, within(0.01));
		assertThat(after.levels().value(Level.PHOSPHATE)).isEqualTo(200);
		assertThat(PoolWater.of(OUTDOORS, FULL.toBuilder().tds(null).build()).after(Product.usual("p", kind), amount, 10_000).tds())
			.isNull();
	}

	@Test
	void anotherPhLeavesEverythingElse() {
		PoolWater water = PoolWater.of(OUTDOORS, FULL);
		assertThat(water.withPh(7.8)).isEqualTo(new PoolWater(water.water().withPh(7.8), water.known(), 0.4, null, 1800.0,
				Map.of(Level.PHOSPHATE, 200.0), false));
	}

	/** By hand, in 10 m³: 80 g of pure calcium hypochlorite at 65 % bring 5.2 ppm; 0.706 ppm of hardness with each (side-effects.csv). */
	@Test
	void recordedDosesActOneAfterTheOther() {
		PoolWater after = PoolWater.of(OUTDOORS, FULL)
			.after(List.of(dose(ProductKind.CAL_HYPO_65, 80), dose(ProductKind.CAL_HYPO_65, 80), dose(ProductKind.CLARIFIER, 100),
					dose(ProductKind.TRICHLOR_TAB, 400)), 10_000.0);
		assertThat(after.levels().value(Level.FC)).isCloseTo(3 + 10.4, within(1e-9));
		assertThat(after.levels().value(Level.CH)).isCloseTo(300 + 0.7058 * 10.4, within(0.01));
		assertThat(after.levels().value(Level.CYA)).as("tablets give nothing at once").isEqualTo(40);
		assertThat(after.known()).isEqualTo(Set.copyOf(FULL.tested()));
	}

	@Test
	void doseOfUnknownAmountMakesItsLevelUnknown() {
		PoolWater water = PoolWater.of(OUTDOORS, FULL);
		RecordedDose unknownAcid = new RecordedDose(ProductKind.MURIATIC_3145, null, ProductKind.MURIATIC_3145.basis(), 500);
		assertThat(water.after(List.of(unknownAcid), 10_000.0).levels().values()).doesNotContainKey(Level.PH).containsKey(Level.FC);
		RecordedDose unknownSoda = new RecordedDose(ProductKind.SODA_ASH, null, ProductKind.SODA_ASH.basis(), 500);
		assertThat(water.after(List.of(unknownSoda), 10_000.0).levels().values()).doesNotContainKey(Level.PH).containsKey(Level.FC);
		assertThat(water.after(List.of(dose(ProductKind.CAL_HYPO_65, 80)), null).levels().values()).as("volume not known")
			.doesNotContainKey(Level.FC)
			.containsKey(Level.PH);
		assertThat(water.after(List.of(dose(ProductKind.SULFITE, 80)), 10_000.0).levels().values()).doesNotContainKey(Level.FC)
			.containsKey(Level.PH);
	}

	private static RecordedDose dose(ProductKind kind, double amount) {
		return new RecordedDose(kind, kind.strength(), kind.basis(), amount);
	}

}
