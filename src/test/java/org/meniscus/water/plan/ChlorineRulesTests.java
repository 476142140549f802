package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** A pool below its minimum of free chlorine, over drawn waters: it gets chlorine, or the plan says what is missing. Common practice. */
class ChlorineRulesTests {

	private static PlanRequest with(PlanRequest drawn, Situation situation, @Nullable Double swimWithinHours, List<Product> products) {
		return new PlanRequest(drawn.pool(), drawn.readings().toBuilder().tc(null).cc(0.0).build(), situation, products, drawn.policy(),
				drawn.daysToNextVisit(), swimWithinHours, drawn.units(), drawn.lastKnown(), drawn.forecast());
	}

	/** Below what people may swim in, with room under the ceiling, in a pool that is not small. */
	private static List<PlanRequest> below(int seed, Situation situation, @Nullable Double swimWithinHours, List<Product> products) {
		Random random = new Random(seed);
		List<PlanRequest> requests = new ArrayList<>();
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest request = with(Pools.random(random), situation, swimWithinHours, products);
			if (!request.pool().sanitizer().usesChlorine() || request.pool().small() || request.readings().fc() == null) {
				continue;
			}
			double minimum = Assessor.fcMinimum(request.pool(), request.effectiveReadings(), request.policy());
			if (request.readings().fc() < Assessor.fcToSwim(request.pool(), request.effectiveReadings()) - 0.2
					&& minimum < request.policy().fcCeiling()
					&& Planner.plan(request) instanceof Plan) {
				requests.add(request);
			}
		}
		assertThat(requests).hasSizeGreaterThan(Draws.COUNT / 40);
		return requests;
	}

	private static Plan plan(PlanRequest request) {
		return (Plan) Planner.plan(request);
	}

	private static double minimum(Plan plan) {
		Double minimum = plan.assessment().fcMinimum();
		assertThat(minimum).isNotNull();
		return minimum;
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

	@ParameterizedTest
	@EnumSource(names = { "CAL_HYPO_65", "LIQUID_CHLORINE_10" })
	void whateverIsAlongBringsThePoolBackToItsMinimum(ProductKind only) {
		for (PlanRequest request : below(1, Situation.ROUTINE, 0.25, List.of(Product.usual("only", only)))) {
			Plan plan = plan(request);
			assertThat(plan.after().value(Level.FC, 0)).as("%s", request).isGreaterThanOrEqualTo(minimum(plan) - 1e-6);
			assertThat(plan.missing()).extracting(Plan.MissingProduct::purpose).doesNotContain(Step.Purpose.RAISE_FC);
			Step chlorine = plan.steps().stream().filter(step -> step.purpose() == Step.Purpose.RAISE_FC).findFirst().orElseThrow();
			if (!Boolean.FALSE.equals(request.readings().drainVisible())) {
				assertThat(chlorine.choiceReason().code()).as("people come in a quarter of an hour").isEqualTo("choice.last-resort");
				assertThat(Pools.notes(plan)).contains(chlorine.choiceReason());
			}
			assertThat(plan.cautions()).as("nothing is said against what goes in")
				.extracting(Reason::code)
				.doesNotContain((only == ProductKind.CAL_HYPO_65) ? "not.calcium" : "not.shock-metal");
		}
	}

	/** Dichlor leaves stabilizer: slow, and nothing else is along; indoors it is not allowed at all. */
	@Test
	void stabilizerGivesWayOutdoorsOnly() {
		int outdoors = 0;
		for (PlanRequest request : below(2, Situation.ROUTINE, null, List.of(Product.usual("only", ProductKind.DICHLOR_56)))) {
			Plan plan = plan(request);
			boolean given = plan.steps().stream().anyMatch(step -> step.purpose() == Step.Purpose.RAISE_FC);
			assertThat(given).as("%s", request).isEqualTo(!request.pool().indoor());
			assertThat(plan.missing().stream().anyMatch(missing -> missing.purpose() == Step.Purpose.RAISE_FC)).isEqualTo(!given);
			assertThat(plan.cautions()).extracting(Reason::code).doesNotContain(given ? "not.stabilized" : "none");
			outdoors += given ? 1 : 0;
		}
		assertThat(outdoors).isPositive();
	}

	@Test
	void withoutChlorineAlongThePlanSaysHowMuchToBringAndThePoolStaysClosed() {
		for (PlanRequest request : below(3, Situation.ROUTINE, null, List.of(Product.usual("acid", ProductKind.MURIATIC_3145)))) {
			Plan plan = plan(request);
			Plan.MissingProduct chlorine = plan.missing()
				.stream()
				.filter(missing -> missing.purpose() == Step.Purpose.RAISE_FC)
				.findFirst()
				.orElseThrow();
			double litres = request.pool().volume().litres();
			double brings = ProductEffects.concentration(chlorine.product(), chlorine.amount().amount(), litres);
			assertThat(plan.before().value(Level.FC, 0) + brings).isGreaterThanOrEqualTo(minimum(plan) - 1e-6);
			assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
			assertThat(codes(plan.swim().closedUntil())).contains("swim.fc");
			assertThat(plan.swim().conditions().get(0).evidence()).as("said first")
				.isIn(SwimReadiness.Evidence.TEST, SwimReadiness.Evidence.TREATMENT);
		}
	}

	/** A ban for the sake of safety or of the surface stands, however little chlorine there is. */
	@Test
	void metalStainsAndNewPlasterDoNotGiveWay() {
		List<Product> calciumHypochlorite = List.of(Product.usual("only", ProductKind.CAL_HYPO_65));
		for (Situation situation : List.of(Situation.STAINS_IRON, Situation.STAINS_MANGANESE, Situation.NEW_PLASTER)) {
			for (PlanRequest request : below(4, situation, null, calciumHypochlorite)) {
				assertThat(plan(request).steps()).noneMatch(step -> step.product().kind().ingredient().chlorine());
			}
		}
	}

	/** Where no dose opens the pool nobody who comes soon keeps chlorine out: the main drain cannot be seen. */
	@Test
	void poolThatIsClosedForAnotherReasonGetsWhatHoldsUntilTheNextVisit() {
		Random random = new Random(7);
		List<Product> slow = List.of(Product.usual("only", ProductKind.CAL_HYPO_65));
		int dosed = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			double fc = Pools.round(2 + 1.3 * random.nextDouble(), 0.1);
			for (boolean visible : new boolean[]{ true, false }) {
				PlanRequest request = new PlanRequest(Pools.plaster(15_000), Pools.balanced().fc(fc).ph(7.3).drainVisible(visible).build(),
						Situation.ROUTINE, slow, TreatmentPolicy.defaults(), 7, 3.0, UnitSystem.US);
				Plan plan = plan(request);
				boolean now = plan.steps().stream().anyMatch(step -> step.purpose() == Step.Purpose.RAISE_FC);
				assertThat(now).as("FC %s, drain visible %s", fc, visible).isEqualTo(!visible);
				assertThat(plan.swim().state() == SwimReadiness.State.CLOSED).isEqualTo(!visible);
				dosed += now ? 1 : 0;
			}
		}
		assertThat(dosed).isPositive();
	}

	/** CYA/20 of the water as it settles, and what is poured against what falls short; stabilizer dissolves within a week. */
	@Test
	void stabilizerThatGoesInCountsForWhatChlorineIsToHold() {
		Random random = new Random(8);
		int counted = 0;
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest drawn = Pools.random(random);
			PlanRequest request = with(drawn, Situation.ROUTINE, null, Pools.truck());
			Double cya = request.effectiveReadings().cya();
			if (!drawn.pool().sanitizer().usesChlorine() || cya == null || !(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			double settled = plan.after().value(Level.CYA, 0);
			boolean raised = plan.steps().stream().anyMatch(step -> step.purpose() == Step.Purpose.RAISE_CYA);
			if (raised && settled / 20 > Math.max(2, cya / 20) && settled / 20 < request.policy().fcCeiling() && !drawn.pool().small()) {
				assertThat(plan.after().value(Level.FC, 0)).as("%s", request).isGreaterThanOrEqualTo(settled / 20 - 0.1);
				counted++;
			}
		}
		assertThat(counted).isPositive();
	}

	/** With a ceiling of 4 ppm CYA/20 passes it above CYA 80: trade facts, finding for the engine. */
	@Test
	void whereStabilizerLeavesNoRoomChlorineIsHeldAtTheCeilingAndTheDrainIsBooked() {
		// closed above a CYA to FC ratio of 45 only: model code of 2023
		Random random = new Random(5);
		PoolFacts pool = Pools.plaster(15_000);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			double fc = Pools.round(4 * random.nextDouble(), 0.1);
			double cya = Pools.round(85 + 95 * random.nextDouble(), 5);
			Plan plan = Pools.plan(pool, Pools.balanced().fc(fc).cya(cya), Situation.ROUTINE);
			assertThat(plan.after().value(Level.FC, 0)).isBetween(Math.max(3.4, fc), 4 + 1e-6);
			assertThat(codes(plan.swim().closedUntil())).as("CYA %s", cya)
				.isEqualTo((cya >= 180) ? List.of("swim.no-room")
						: (plan.after().value(Level.FC, 0) < cya / 45) ? List.of("swim.fc") : List.of());
			assertThat(codes(Pools.notes(plan))).contains("note.no-room");
			assertThat(plan.replacement()).isNotNull();
			assertThat(plan.followUps().get(0).reason().code()).isEqualTo("later.drain");
		}
	}

	/** 8.5 hours out of the water are not worth a few cents where people may come any time; where they come tomorrow the cents count. */
	@Test
	void cheaperChlorineThatKeepsPeopleOutForTheDayHasToBeCheaperByMore() {
		Random random = new Random(11);
		Product calcium = Product.usual("calcium", ProductKind.CAL_HYPO_65);
		double perPpm = 315 / ProductEffects.concentration(calcium, 453.59237, 1000);
		for (int i = 0; i < Draws.COUNT / 20; i++) {
			double fc = Pools.round(3 * random.nextDouble(), 0.1);
			double dearer = 1.01 + 0.04 * random.nextDouble();
			Product liquid = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125);
			long price = Math.round(dearer * perPpm * ProductEffects.concentration(liquid, 3785.411784, 1000));
			List<Product> both = List.of(calcium, liquid.withPrice(3785.411784, price));
			PoolFacts pool = Pools.plaster(8000);
			Plan any = plan(new PlanRequest(pool, Pools.balanced().fc(fc).ph(7.3).build(), Situation.ROUTINE, both,
					TreatmentPolicy.defaults(), 7, null, UnitSystem.US));
			assertThat(any.steps()).filteredOn(step -> step.purpose() == Step.Purpose.RAISE_FC)
				.allMatch(step -> step.product().id().equals("liquid"));
		}
	}

	/** Labels name from 5, 7 and 10 ppm for superchlorination (Alden Leeds, technical document 3): the rest is for the new water. */
	@Test
	void growthInWaterToBeReplacedIsNeverLeftWithoutChlorine() {
		Random random = new Random(9);
		List<Situation> growth = List.of(Situation.GREEN_ALGAE_LIGHT, Situation.GREEN_ALGAE_HEAVY, Situation.MUSTARD_ALGAE,
				Situation.BLACK_ALGAE, Situation.PINK_SLIME);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			double fc = Pools.round(3 * random.nextDouble(), 0.1);
			double cya = Pools.round(105 + 95 * random.nextDouble(), 5);
			Situation situation = growth.get(random.nextInt(growth.size()));
			Plan plan = Pools.plan(Pools.plaster(15_000), Pools.balanced().fc(fc).ph(7.3).cya(cya), situation);
			assertThat(plan.replacement()).isNotNull();
			double least = (situation == Situation.GREEN_ALGAE_HEAVY) ? 7
					: (situation == Situation.MUSTARD_ALGAE || situation == Situation.BLACK_ALGAE) ? 10 : 5;
			assertThat(plan.after().value(Level.FC, 0)).as("%s, FC %s, CYA %s", situation, fc, cya).isBetween(least - 0.3, least + 0.6);
			assertThat(plan.followUps()).extracting(later -> later.reason().code()).contains("later.drain").doesNotContain("later.hold");
			assertThat(codes(Pools.notes(plan))).contains("note.growth-in-new-water");
		}
	}

	/** Whoever is at the pool by day does not leave it without chlorine until dusk. */
	@Test
	void belowTheMinimumChlorineGoesInNowAndOnlyTheRestAtDusk() {
		Random random = new Random(10);
		Product liquid = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125);
		int parted = 0;
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			double fc = Pools.round(3.4 * random.nextDouble(), 0.1);
			Plan plan = (Plan) Planner.plan(new PlanRequest(Pools.plaster(15_000), Pools.balanced().fc(fc).cya(20.0).build(),
					Situation.ROUTINE, List.of(liquid), TreatmentPolicy.defaults(), 7, UnitSystem.US));
			Step chlorine = plan.steps().stream().filter(step -> step.purpose() == Step.Purpose.RAISE_FC).findFirst().orElseThrow();
			List<Reason> when = chlorine.instructions().stream().filter(reason -> reason.code().startsWith("when.")).toList();
			assertThat(when).hasSize(1);
			assertThat(when.get(0).code().equals("when.dusk")).as("FC %s", fc).isEqualTo(fc >= 2);
			if (when.get(0).code().equals("when.now-rest-at-dusk")) {
				double now = ((Term.Amount) when.get(0).args().get(0)).amount().amount();
				assertThat(fc + ProductEffects.concentration(liquid, now, 15_000 * 3.785411784)).isBetween(2 - 1e-6, 2.2);
				assertThat(now).isLessThan(chlorine.amount().amount());
				parted++;
			}
		}
		assertThat(parted).isPositive();
	}

	/** Label maximum in FC: what one addition brings to water without any. */
	@Test
	void levelsToBeHeldAreWithinWhatTheLabelAllowsAtOnce() {
		Random random = new Random(6);
		int limited = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest drawn = Pools.random(random);
			double most = 5 + 10 * random.nextDouble();
			Product usual = Product.usual("labelled", ProductKind.LIQUID_CHLORINE_125);
			Product labelled = usual.withLabelMaxPerM3(ProductEffects.amount(usual, most, 1000));
			Situation growth = random.nextBoolean() ? Situation.GREEN_ALGAE_HEAVY : Situation.MUSTARD_ALGAE;
			if (!drawn.pool().sanitizer().usesChlorine()
					|| !(Planner.plan(with(drawn, growth, null, List.of(labelled))) instanceof Plan plan) || plan.steps().isEmpty()) {
				continue;
			}
			for (FollowUpStep later : plan.followUps()) {
				if (later.reason().code().equals("later.hold")) {
					assertThat(((Term.Value) later.reason().args().get(0)).value()).isLessThanOrEqualTo(most + 1e-6);
					limited++;
				}
			}
		}
		assertThat(limited).isPositive();
	}

}
