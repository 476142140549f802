package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** What a technician may rely on, rule by rule. Rules without a named source are common practice, no source. */
class PlannerTests {

	private static final PoolFacts PLASTER = Pools.plaster(15_000);

	private static List<ActiveIngredient> ingredients(Plan plan) {
		return plan.steps().stream().map(step -> step.product().kind().ingredient()).toList();
	}

	private static Step step(Plan plan, Step.Purpose purpose) {
		return plan.steps().stream().filter(step -> step.purpose() == purpose).findFirst().orElseThrow();
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

	@Test
	void waterInRangeGetsNothing() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(4.0), Situation.ROUTINE);
		assertThat(plan.steps()).isEmpty();
		assertThat(plan.followUps()).isEmpty();
		assertThat(plan.replacement()).isNull();
	}

	@Test
	void noDoseWithoutPhFreeChlorineStrengthOrACheckedVolume() {
		assertThat(refusal(PLASTER, Pools.balanced().ph(null))).containsExactly("refused.missing");
		assertThat(refusal(PLASTER, Pools.balanced().fc(null))).containsExactly("refused.missing");
		assertThat(refusal(PLASTER.withVolume(null, VolumeCertainty.MEASURED), Pools.balanced())).containsExactly("refused.volume-missing");
		assertThat(refusal(PLASTER.withVolume(PLASTER.volume(), VolumeCertainty.UNVERIFIED), Pools.balanced()))
			.containsExactly("refused.volume-unverified");
		Product unknown = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125).withStrength(null, null);
		Plan plan = (Plan) Planner.plan(new PlanRequest(PLASTER, Pools.balanced().fc(0.0).build(), Situation.ROUTINE, List.of(unknown),
				TreatmentPolicy.defaults(), 7, UnitSystem.US));
		assertThat(plan.steps()).isEmpty();
		assertThat(plan.rejected()).extracting(alternative -> alternative.reason().code()).containsExactly("reject.strength-unknown");
	}

	@ParameterizedTest
	@EnumSource(names = { "PUMP_OFF", "CONTAMINATION", "FLOOD" })
	void nothingIsDosedWherePumpHealthOrPowerComeFirst(Situation situation) {
		PlanResult outcome = Planner.plan(Pools.request(PLASTER, Pools.balanced().build(), situation));
		assertThat(outcome).isInstanceOf(PlanRefusal.class);
		assertThat(((PlanRefusal) outcome).tasks()).isNotEmpty();
	}

	private static List<String> refusal(PoolFacts pool, Readings.Builder readings) {
		return codes(((PlanRefusal) Planner.plan(Pools.request(pool, readings.build(), Situation.ROUTINE))).reasons());
	}

	/** Calcium hypochlorite, muriatic acid and what balances are along, no other chlorine. */
	private static Plan withCalciumHypochlorite(PoolFacts pool, Readings.Builder readings, Situation situation) {
		List<Product> onTruck = Pools.truck()
			.stream()
			.filter(product -> !product.kind().ingredient().chlorine() || product.kind() == ProductKind.CAL_HYPO_65)
			.toList();
		return (Plan) Planner
			.plan(new PlanRequest(pool, readings.build(), situation, onTruck, TreatmentPolicy.defaults(), 0, UnitSystem.US));
	}

	/** First choice of the trade table situations.csv, row algae_green_light. */
	@Test
	void greenWaterGetsLiquidChlorineAfterAcid() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.2).ph(7.8), Situation.GREEN_ALGAE_LIGHT);
		assertThat(ingredients(plan)).containsExactly(ActiveIngredient.MURIATIC_ACID, ActiveIngredient.SODIUM_HYPOCHLORITE);
	}

	@Test
	void calciumHypochloriteGoesInAtDuskEightHoursBeforeSwimmingAfterAcid() {
		Plan plan = withCalciumHypochlorite(PLASTER, Pools.balanced().fc(0.2).ph(7.8), Situation.GREEN_ALGAE_LIGHT);
		assertThat(ingredients(plan)).containsExactly(ActiveIngredient.MURIATIC_ACID, ActiveIngredient.CALCIUM_HYPOCHLORITE);
		Step chlorine = step(plan, Step.Purpose.RAISE_FC);
		assertThat(chlorine.startMinutes()).isGreaterThanOrEqualTo(30);
		assertThat(chlorine.waitHours()).isGreaterThanOrEqualTo(8);
		assertThat(codes(chlorine.instructions())).contains("when.now-rest-at-dusk", "apply.other-place");
		assertThat(chlorine.before().value(Level.PH, 9)).isLessThanOrEqualTo(7.45);
		assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
		assertThat(codes(plan.swim().reasons())).contains("swim.clear-overnight");
	}

	@Test
	void onVinylItIsDissolvedFirst() {
		PoolFacts vinyl = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.CHLORINE_BY_HAND);
		Step chlorine = step(withCalciumHypochlorite(vinyl, Pools.balanced().fc(0.2).ph(7.3), Situation.GREEN_ALGAE_LIGHT),
				Step.Purpose.RAISE_FC);
		assertThat(chlorine.product().kind().ingredient()).isEqualTo(ActiveIngredient.CALCIUM_HYPOCHLORITE);
		assertThat(codes(chlorine.instructions())).contains("apply.pre-dissolve");
	}

	@Test
	void withASaltCellCalciumHypochloriteIsTheLastChoice() {
		PoolFacts salt = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		Readings.Builder green = Pools.balanced().fc(0.2).ph(7.3).cya(45.0).salt(3200.0);
		Plan plan = Pools.plan(salt, green, Situation.GREEN_ALGAE_HEAVY);
		assertThat(step(plan, Step.Purpose.RAISE_FC).product().kind().ingredient()).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		Plan routine = Pools.plan(salt, green, Situation.ROUTINE);
		assertThat(codes(Pools.notes(routine))).contains("note.cell-boost-slow");
	}

	@Test
	void aSmallSoftSidedPoolGetsLiquidChlorineInSmallSteps() {
		PoolFacts small = Pools.of(1_500, BodyOfWater.POOL, Surface.SOFT_SIDED, false, Sanitizer.CHLORINE_BY_HAND);
		Plan plan = Pools.plan(small, Pools.balanced().fc(0.0).ph(7.3).cya(20.0), Situation.GREEN_ALGAE_LIGHT);
		Step chlorine = step(plan, Step.Purpose.RAISE_FC);
		assertThat(chlorine.product().kind().ingredient()).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		assertThat(chlorine.after().value(Level.FC, 0)).isLessThanOrEqualTo(4.01);
		assertThat(plan.followUps()).extracting(later -> later.reason().code()).contains("later.rest");
		assertThat(chlorine.alternatives()).extracting(alternative -> alternative.reason().code()).contains("reject.cal-hypo-small");
	}

	@Test
	void aPoundBagOfCalciumHypochloriteIsFarTooMuchForASmallPool() {
		// 1 lb of 65 % in 1,500 gal is about 52 ppm: trade table situations.csv, row soft_sided, arithmetic.
		Product bag = Product.usual("bag", ProductKind.CAL_HYPO_65);
		assertThat(ProductEffects.concentration(bag, 453.59237, 1500 * 3.785411784)).isCloseTo(52, within(0.5));
	}

	@Test
	void dichlorOnlyWhereStabilizerAllowsIt() {
		PoolFacts spa = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);
		Readings.Builder low = Pools.balanced().fc(0.5).ch(180.0).celsius(38.0);
		assertThat(step(Pools.plan(spa, low.cya(10.0), Situation.ROUTINE), Step.Purpose.RAISE_FC).product().kind().ingredient())
			.isEqualTo(ActiveIngredient.DICHLOR);
		assertThat(step(Pools.plan(spa, low.cya(35.0), Situation.ROUTINE), Step.Purpose.RAISE_FC).product().kind().ingredient())
			.isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		PoolFacts indoor = Pools.of(20_000, BodyOfWater.POOL, Surface.TILE, true, Sanitizer.CHLORINE_BY_HAND);
		Step chlorine = step(Pools.plan(indoor, Pools.balanced().fc(0.3).cya(0.0), Situation.ROUTINE), Step.Purpose.RAISE_FC);
		assertThat(chlorine.alternatives()).extracting(alternative -> alternative.reason().code()).contains("reject.cya-indoor");
	}

	@Test
	void theOxidizerRefreshesAndIsNeverTheAnswerToAlgae() {
		Plan refresh = Pools.plan(PLASTER, Pools.balanced().fc(4.0).cc(0.6), Situation.WEEKLY_REFRESH);
		Step oxidizer = step(refresh, Step.Purpose.OXIDIZE);
		assertThat(oxidizer.waitHours()).isLessThanOrEqualTo(1);
		assertThat(oxidizer.after().value(Level.CYA, 0)).isEqualTo(40);
		assertThat(oxidizer.after().value(Level.CH, 0)).isEqualTo(280);
		List<Product> onlyOxidizer = List.of(Product.usual("oxidizer", ProductKind.MPS));
		Plan green = (Plan) Planner
			.plan(new PlanRequest(PLASTER, Pools.balanced().fc(0.2).build(), Situation.GREEN_ALGAE_LIGHT, onlyOxidizer,
					TreatmentPolicy.defaults(), 7, UnitSystem.US));
		assertThat(green.steps()).isEmpty();
		assertThat(green.rejected()).extracting(alternative -> alternative.reason().code()).containsExactly("reject.oxidizer-growth");
	}

	@Test
	void theFreeChlorineAimForGrowthFollowsStabilizerThroughActiveChlorine() {
		double lightly = step(Pools.plan(PLASTER, Pools.balanced().fc(0.0).ph(7.3).cya(20.0), Situation.GREEN_ALGAE_LIGHT),
				Step.Purpose.RAISE_FC)
			.after().value(Level.FC, 0);
		double heavily = step(Pools.plan(PLASTER, Pools.balanced().fc(0.0).ph(7.3).cya(75.0), Situation.GREEN_ALGAE_LIGHT),
				Step.Purpose.RAISE_FC)
			.after().value(Level.FC, 0);
		assertThat(heavily).isGreaterThan(2 * lightly);
		assertThat(heavily).isLessThanOrEqualTo(20.0 + 1e-9);
	}

	@Test
	void whereMinimumAndCeilingCrossChlorineIsHeldAtTheCeilingAndTheDrainIsBooked() {
		// With a 4 ppm ceiling CYA/20 crosses it at CYA 80: arithmetic.
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(1.0).cya(120.0), Situation.ROUTINE);
		assertThat(plan.after().value(Level.FC, 0)).isCloseTo(4, within(0.05));
		assertThat(plan.swim().closedUntil()).as("120/45 is 2.7").isEmpty();
		assertThat(plan.followUps()).extracting(later -> later.reason().code()).contains("later.drain");
		WaterReplacement replacement = plan.replacement();
		assertThat(replacement).isNotNull();
		// Three quarters of what the ceiling allows, 60, is enough; the end of the ideal range, 50, the most: the cheaper by the season's value.
		assertThat(replacement.after().value(Level.CYA, 0)).isBetween(50 - 0.01, 60 + 0.01);
		assertThat(codes(replacement.cautions())).contains("drain.groundwater", "drain.where-to");
	}

	@Test
	void shareToReplaceIsThatOfTheWorkedExample() {
		// CYA 120 to 60, fill 0: 50 % drained, or 0.69 pool volumes of run-through: arithmetic of perfect mixing.
		PoolFacts pool = PLASTER.withTargets(PLASTER.targets().with(Map.of(Level.CYA, new Range(0, 30, 60, 100, "test"))));
		WaterReplacement replacement = Pools.plan(pool, Pools.balanced().cya(120.0), Situation.ROUTINE).replacement();
		assertThat(replacement).isNotNull();
		assertThat(replacement.share()).isCloseTo(0.5, within(1e-9));
		assertThat(replacement.flowThroughVolumes()).isCloseTo(0.69, within(0.005));
		assertThat(replacement.drainCount()).isEqualTo(2);
	}

	@Test
	void hardFillWaterIsSaidToBeNoHelp() {
		PoolFacts hard = PLASTER.withFill(new FillWater(7.8, 150.0, 500.0, 300.0));
		Plan plan = Pools.plan(hard, Pools.balanced().ch(900.0), Situation.ROUTINE);
		assertThat(plan.replacement()).isNull();
		assertThat(codes(Pools.notes(plan))).contains("replace.fill-no-help");
	}

	@Test
	void aLinerIsNeverEmptied() {
		PoolFacts vinyl = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.CHLORINE_BY_HAND);
		WaterReplacement replacement = Pools.plan(vinyl, Pools.balanced().cya(150.0), Situation.ROUTINE).replacement();
		assertThat(replacement).isNotNull();
		assertThat(codes(replacement.cautions())).contains("drain.liner", "drain.a-third-liner");
	}

	@Test
	void bicarbonateAndCalciumAreNotDosedOnOneDay() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(4.0).ta(50.0).ch(120.0).ph(7.4), Situation.ROUTINE);
		assertThat(ingredients(plan)).containsExactly(ActiveIngredient.BICARBONATE);
		assertThat(plan.followUps()).anySatisfy(later -> {
			assertThat(later.product()).isNotNull();
			assertThat(later.product().kind().ingredient()).isEqualTo(ActiveIngredient.CALCIUM_CHLORIDE);
			// 6 to 8 h or one turnover, calcium last: common practice, no source.
			assertThat(later.afterHours()).isGreaterThanOrEqualTo(6);
		});
	}

	@Test
	void aCapSplitsALargeDoseIntoDatedSteps() {
		// 10 lb of bicarbonate and 40 ppm of TA at most: common practice, no source.
		Plan plan = Pools.plan(PLASTER, Pools.balanced().ta(20.0).ph(7.4).cya(0.0), Situation.ROUTINE);
		Step bicarbonate = step(plan, Step.Purpose.RAISE_TA);
		assertThat(bicarbonate.after().value(Level.TA, 0)).isLessThanOrEqualTo(60);
		// Nobody comes back within hours on a route.
		assertThat(plan.followUps()).filteredOn(later -> later.reason().code().equals("later.rest-next-visit"))
			.singleElement()
			.satisfies(later -> assertThat(later.afterHours()).isEqualTo(7 * 24));
	}

	@Test
	void stabilizerIsNotAddedIndoorsNorOnTabletsNorOnADoubtfulReading() {
		Readings.Builder bare = Pools.balanced().cya(0.0);
		assertThat(ingredients(Pools.plan(PLASTER, bare, Situation.ROUTINE))).contains(ActiveIngredient.CYANURIC_ACID);
		PoolFacts tablets = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.TABLET_FEEDER);
		assertThat(ingredients(Pools.plan(tablets, bare, Situation.ROUTINE))).doesNotContain(ActiveIngredient.CYANURIC_ACID);
		PoolFacts indoor = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, true, Sanitizer.CHLORINE_BY_HAND);
		assertThat(ingredients(Pools.plan(indoor, bare, Situation.ROUTINE))).doesNotContain(ActiveIngredient.CYANURIC_ACID);
		Plan below = Pools.plan(PLASTER, Pools.balanced().cya(30.0, ReadingQualifier.BELOW), Situation.ROUTINE);
		assertThat(ingredients(below)).doesNotContain(ActiveIngredient.CYANURIC_ACID);
	}

	@Test
	void aColourTestOfPhIsNotTrustedAboveTenPpm() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(14.0).ph(8.4), Situation.ROUTINE);
		assertThat(plan.steps()).isEmpty();
		assertThat(codes(Pools.notes(plan))).contains("reading.ph-doubtful", "note.fc-too-high");
		assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
	}

	@Test
	void chlorineIsDosedToLastUntilTheNextVisitAndSaysWhenItCannot() {
		Readings readings = Pools.balanced().fc(2.5).build();
		Plan soon = (Plan) Planner
			.plan(new PlanRequest(PLASTER, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.withCeiling(10), 2, UnitSystem.US));
		Plan week = (Plan) Planner
			.plan(new PlanRequest(PLASTER, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.withCeiling(10), 7, UnitSystem.US));
		assertThat(soon.after().value(Level.FC, 0)).isLessThan(week.after().value(Level.FC, 0));
		Plan low = (Plan) Planner
			.plan(new PlanRequest(PLASTER, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), 7, UnitSystem.US));
		assertThat(codes(Pools.notes(low))).contains("note.fc-not-held");
	}

	@Test
	void peopleSoonInTheWaterRuleOutWhatTakesTooLong() {
		Plan plan = (Plan) Planner.plan(new PlanRequest(PLASTER, Pools.balanced().fc(0.2).ph(7.3).build(), Situation.ROUTINE,
				Pools.truck(), TreatmentPolicy.defaults(), 7, 3.0, UnitSystem.US));
		Step chlorine = step(plan, Step.Purpose.RAISE_FC);
		assertThat(chlorine.product().kind().ingredient()).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		assertThat(chlorine.alternatives()).extracting(alternative -> alternative.reason().code()).contains("reject.swim-sooner");
	}

	@Test
	void indoorsCombinedChlorineIsOxidizedWithoutShockAndTheHallAired() {
		PoolFacts indoor = Pools.of(40_000, BodyOfWater.POOL, Surface.TILE, true, Sanitizer.CHLORINE_BY_HAND);
		Plan plan = Pools.plan(indoor, Pools.balanced().fc(4.0).cya(0.0).cc(1.0), Situation.HIGH_COMBINED_CHLORINE);
		assertThat(ingredients(plan)).startsWith(ActiveIngredient.MONOPERSULFATE).noneMatch(ActiveIngredient::chlorine);
		assertThat(codes(plan.tasks())).contains("work.ventilate", "work.hall-empty");
	}

	/** 0.4 ppm closes and asks for treatment, whatever the visit is for: trade facts, when it is ready to swim; model code, from memory. */
	@Test
	void combinedChlorineAboveItsLimitIsTreatedOnARoutineVisitAndTheCautionsOfTheOxidizerGoWithIt() {
		Random random = new Random(12);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			PlanRequest drawn = Pools.random(random);
			double combined = Pools.round(0.5 + 3 * random.nextDouble(), 0.1);
			PlanRequest request = new PlanRequest(drawn.pool(), drawn.readings().toBuilder().tc(null).cc(combined).build(),
					Situation.ROUTINE, Pools.truck(), drawn.policy(), drawn.daysToNextVisit(), null, drawn.units());
			if (!drawn.pool().sanitizer().usesChlorine() || !(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
			if (plan.replacement() != null) {
				// What lowers it most is other water.
				continue;
			}
			List<Step.Purpose> purposes = plan.steps().stream().map(Step::purpose).toList();
			Double ph = drawn.readings().ph();
			Double fc = drawn.readings().fc();
			if ((ph != null && ph < 7.25) || (fc != null && fc > 10)) {
				// The oxidizer is an acid: a low pH first, one that chlorine falsifies not guessed; the oxidizer at the next visit.
				assertThat(purposes.contains(Step.Purpose.OXIDIZE) || purposes.contains(Step.Purpose.RAISE_FC) || plan.followUps()
					.stream()
					.anyMatch(later -> later.product() != null
							&& later.product().kind().ingredient() == ActiveIngredient.MONOPERSULFATE))
					.as("%s", request).isTrue();
				continue;
			}
			assertThat(purposes).as("%s", request).containsAnyOf(Step.Purpose.OXIDIZE, Step.Purpose.RAISE_FC);
			if (purposes.contains(Step.Purpose.OXIDIZE)) {
				assertThat(codes(plan.cautions())).containsOnlyOnce("not.oxidizer-trust");
				assertThat(codes(plan.swim().reasons())).doesNotContain("swim.fc", "swim.combined", "swim.combined-indoor");
			}
		}
	}

	@Test
	void withoutTheOxidizerCombinedChlorineIsSuperchlorinated() {
		List<Product> truck = List.of(Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125));
		Plan plan = (Plan) Planner.plan(new PlanRequest(PLASTER, Pools.balanced().fc(3.0).cc(1.0).build(), Situation.ROUTINE, truck,
				TreatmentPolicy.defaults(), 7, UnitSystem.US));
		assertThat(step(plan, Step.Purpose.RAISE_FC).reason().code()).isEqualTo("why.high-combined-chlorine");
		assertThat(plan.after().value(Level.FC, 0)).isGreaterThan(5);
	}

	@Test
	void aPoolOnBiguanideIsBalancedAndNothingElse() {
		PoolFacts biguanide = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.BIGUANIDE);
		Plan plan = Pools.plan(biguanide, Pools.balanced().ph(8.1), Situation.ROUTINE);
		assertThat(ingredients(plan)).containsExactly(ActiveIngredient.MURIATIC_ACID);
		assertThat(codes(plan.tasks())).contains("work.biguanide-own");
		PlanResult growth = Planner.plan(Pools.request(biguanide, Pools.balanced().build(), Situation.GREEN_ALGAE_LIGHT));
		assertThat(growth).isInstanceOfSatisfying(PlanResult.PlanRefusal.class,
				refused -> assertThat(codes(refused.reasons())).contains("refused.biguanide"));
	}

	@Test
	void readingsThatCannotBeAreRefusedNotComputedOn() {
		assertThat(refusal(PLASTER, Pools.balanced().ph(75.0))).containsExactly("reading.impossible");
		assertThat(refusal(PLASTER, Pools.balanced().ta(10.0).cya(200.0).ph(8.0))).containsExactly("reading.ta-below-share");
	}

	@Test
	void costsFollowThePriceOfTheAmountMeasuredOut() {
		Product priced = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125).withPrice(3785.411784, 400L);
		Plan plan = (Plan) Planner.plan(new PlanRequest(PLASTER, Pools.balanced().fc(1.0).build(), Situation.ROUTINE, List.of(priced),
				TreatmentPolicy.defaults(), 0, UnitSystem.US));
		Step chlorine = step(plan, Step.Purpose.RAISE_FC);
		MeasuredAmount amount = chlorine.amount();
		assertThat(amount).isNotNull();
		assertThat(chlorine.costCents()).isEqualTo(Math.round(amount.amount() / 3785.411784 * 400));
	}

	@Test
	void aLevelNotTestedTodayIsCarriedWithWhatWasDosedSinceButNotDosedItself() {
		LastKnownLevels carried = LastKnownLevels.of(List.of(
				new LastKnownLevels.EarlierVisit(7, Readings.builder().fc(2.0).ph(7.5).build(), Map.of(Level.CYA, 3.0), null),
				new LastKnownLevels.EarlierVisit(21, Pools.balanced().cya(67.0).ch(120.0).build(), Map.of(Level.CYA, 2.0), null)), PLASTER);
		assertThat(carried.values().get(Level.CYA)).isEqualTo(new LastKnownLevels.DatedValue(72.0, 21));
		Readings today = Readings.builder().fc(2.5).ph(7.5).ta(90.0).build();
		Plan plan = (Plan) Planner
			.plan(new PlanRequest(PLASTER, today, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), 0, null,
					UnitSystem.US)
				.withLastKnown(carried));
		// CYA/20, Falk et al. 2019, figure from memory.
		assertThat(plan.assessment().fcMinimum()).isCloseTo(3.6, within(1e-9));
		assertThat(ingredients(plan)).containsExactly(ActiveIngredient.SODIUM_HYPOCHLORITE);
		assertThat(codes(Pools.notes(plan))).contains("note.carried").doesNotContain("note.assumed-cya");
	}

	@Test
	void whatIsNotKnownForSureIsNotCarried() {
		Readings old = Pools.balanced().cya(50.0).build();
		assertThat(LastKnownLevels.of(List.of(new LastKnownLevels.EarlierVisit(90, old, Map.of(), null)), PLASTER).values())
			.doesNotContainKey(Level.CYA)
			.containsKey(Level.CH);
		assertThat(LastKnownLevels.of(List.of(new LastKnownLevels.EarlierVisit(7, old, null, null)), PLASTER).values()).isEmpty();
		assertThat(LastKnownLevels
			.of(List.of(new LastKnownLevels.EarlierVisit(7, Pools.balanced().cya(30.0, ReadingQualifier.BELOW).build(), Map.of(), null)),
					PLASTER)
			.values()).doesNotContainKey(Level.CYA);
		assertThat(LastKnownLevels.of(List.of(new LastKnownLevels.EarlierVisit(7, old, Map.of(), 0.5)), PLASTER).values().get(Level.CYA)
			.value())
			.isCloseTo(25, within(1e-9));
	}

}
