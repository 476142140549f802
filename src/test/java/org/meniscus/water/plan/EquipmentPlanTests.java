package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.units.UnitSystem;

/** What a plan says of pump, filter, cell and second systems. */
class EquipmentPlanTests {

	private static final double PSI = Wording.KILOPASCALS_PER_PSI;

	/** Set as the plan says, the cell holds chlorine until the next visit; a step less does not. */
	@Test
	void settingOfTheCellHoldsAndAStepLessDoesNot() {
		Random random = new Random(41);
		Map<String, Integer> seen = new TreeMap<>();
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest request = cellPool(random);
			Plan plan = (Plan) Planner.plan(request);
			Reason set = find(plan.outcome().suggestions(), "offer.cell-set");
			Reason run = find(plan.outcome().suggestions(), "offer.cell-run");
			Equipment equipment = request.pool().equipment();
			Equipment.Cell cell = equipment.cell();
			if (set != null) {
				double percent = ((Term.Number) set.args().get(0)).value();
				assertThat(percent).isLessThanOrEqualTo(100).isGreaterThan(cell.percent());
				assertThat(chance(request, plan, equipment.withCellPercent(percent)))
					.isGreaterThan(request.policy().holdProbability() - 1e-4);
				double less = percent - cell.stepPercent();
				if (less >= cell.percent() && percent < 100) {
					seen.merge("step less", 1, Integer::sum);
					assertThat(chance(request, plan, equipment.withCellPercent(less))).isLessThan(request.policy().holdProbability());
				}
				seen.merge("set", 1, Integer::sum);
			}
			if (run != null) {
				double hours = ((Term.Hours) run.args().get(0)).hours();
				assertThat(hours).isGreaterThan(equipment.pumpHours()).isLessThanOrEqualTo(24);
				assertThat(chance(request, plan, hours(equipment, hours).withCellPercent(100.0)))
					.isGreaterThan(request.policy().holdProbability() - 1e-4);
				seen.merge("run", 1, Integer::sum);
			}
			if (find(plan.outcome().suggestions(), "offer.cell-small") != null) {
				assertThat(chance(request, plan, hours(equipment, 24).withCellPercent(100.0)))
					.isLessThan(request.policy().holdProbability());
				seen.merge("small", 1, Integer::sum);
			}
		}
		assertThat(seen).containsKeys("set", "step less", "run", "small");
	}

	/** Grams a day at 100 %, by percent and hours: the plate of a cell says no more. */
	@Test
	void cellMakesItsRatingByPercentAndHours() {
		Equipment equipment = equipment(new Equipment.Cell(600, 50.0, 10), 8.0);
		assertThat(equipment.cellSupply(50_000, 26)).isCloseTo(600 * 0.5 * 8 / 24 / 50, within(1e-12));
		assertThat(equipment.cellSupply(50_000, 15)).isZero();
		PoolFacts pool = pool().withEquipment(equipment);
		assertThat(PoolForecast.expected(pool).demand().supply()).isEqualTo(equipment.cellSupply(pool.volume().litres(), 26));
	}

	/** A cell that makes twice what is used is set down; one in cold water is left, and hands dose. */
	@Test
	void cellIsSetDownToWhatIsUsedAndLeftInTheCold() {
		PoolFacts pool = pool().withEquipment(equipment(new Equipment.Cell(1000, 100.0, 10), 12.0));
		Readings.Builder readings = Pools.balanced().fc(3.6).cya(70.0).salt(3200.0);
		Plan warm = plan(pool, readings.build());
		Reason set = find(warm.tasks(), "offer.cell-set");
		assertThat(set).isNotNull();
		double percent = ((Term.Number) set.args().get(0)).value();
		double use = PoolForecast.expected(pool).demand().use(4).middle();
		assertThat(percent * 5).isBetween(use * pool.volume().litres() / 1000 * 0.7, use * pool.volume().litres() / 1000 + 50);
		Plan cold = plan(pool, readings.celsius(12.0).build());
		assertThat(codes(cold.tasks())).contains("work.cell-cold").doesNotContain("offer.cell-set");
		assertThat(codes(cold.outcome().suggestions())).noneMatch(code -> code.startsWith("offer.cell"));
	}

	/** FC below what is to be held is believed before the rating: never set lower, and what is poured falls until the next visit. */
	@Test
	void cellThatDidNotHoldIsNeverSetLower() {
		Random random = new Random(43);
		Map<String, Integer> seen = new TreeMap<>();
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest request = cellPool(random);
			double fc = request.readings().fc();
			boolean low = PoolCondition.FC_LOW.holds(request, Assessment.of(request.pool(), request.readings(), request.policy()));
			if (!low || !(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			double now = request.pool().equipment().cell().percent();
			for (Reason set : Stream.of(plan.tasks(), plan.outcome().suggestions()).flatMap(List::stream).toList()) {
				if (set.code().equals("offer.cell-set")) {
					assertThat(((Term.Number) set.args().get(0)).value()).as("%.1f ppm at %.0f %%", fc, now).isGreaterThan(now);
					seen.merge("raised", 1, Integer::sum);
				}
			}
			double after = plan.after().value(Level.FC);
			assertThat(plan.outcome().nextVisit().get(Level.FC).middle()).isLessThanOrEqualTo(Math.max(fc, after) + 1e-6);
			seen.merge((request.forecast().demand().supply() > request.forecast().demand().use(after).middle()) ? "rated for more" : "weak",
					1,
					Integer::sum);
		}
		assertThat(seen).containsKeys("raised", "rated for more", "weak");
	}

	/** 8 psi, or a quarter of the clean pressure but 4 psi, whichever is first. */
	@Test
	void filterIsCleanedByTheRiseOfItsPressure() {
		for (Equipment.Filter filter : Equipment.Filter.values()) {
			String dirty = "work.filter-dirty-" + Wording.code(filter);
			assertThat(filterWork(filter, 20 * PSI, 24.9 * PSI)).isEmpty();
			assertThat(filterWork(filter, 20 * PSI, 25 * PSI)).containsExactly(dirty);
			assertThat(filterWork(filter, 10 * PSI, 13.9 * PSI)).isEmpty();
			assertThat(filterWork(filter, 10 * PSI, 14 * PSI)).containsExactly(dirty);
			assertThat(filterWork(filter, 40 * PSI, 48 * PSI)).containsExactly(dirty);
			assertThat(filterWork(filter, 20 * PSI, 14 * PSI)).containsExactly("work.filter-starved");
		}
		assertThat(filterWork(null, 10 * PSI, 20 * PSI)).containsExactly("work.filter-dirty");
	}

	/** Run time turns the water over once a day: volume over flow. */
	@Test
	void runTimeTurnsTheWaterOverOnce() {
		double litres = pool().volume().litres();
		assertThat(find(work(6.0, litres / 9.2), "work.run-time").args()).containsExactly(new Term.Hours(10), new Term.Hours(6));
		assertThat(codes(work(10.0, litres / 9.2))).doesNotContain("work.run-time", "work.flow-low");
		assertThat(codes(work(24.0, litres / 30))).contains("work.flow-low");
	}

	/** The usual waits are the least; where a turnover takes longer than 8 hours they grow along, up to one turnover. */
	@Test
	void waitsGrowWithTheTurnoverAndNeverShrink() {
		Random random = new Random(43);
		int longer = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest drawn = Pools.random(random);
			double hours = 1 + 40 * random.nextDouble();
			PoolFacts slow = drawn.pool().withEquipment(flow(drawn.pool().volume().litres() / hours));
			PlanRequest request = new PlanRequest(slow, drawn.readings(), drawn.situation(), drawn.products(), drawn.policy(),
					drawn.daysToNextVisit(), drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			for (Step step : plan.steps()) {
				double wait = step.product().kind().waitHours();
				double gap = step.product().kind().gapMinutes() / 60.0;
				assertThat(step.waitHours()).isCloseTo(grown(wait, hours), within(1e-9));
				// before a little chlorine half an hour on site, however slow the pump: PlanPropertiesTests
				boolean little = step.product().kind().ingredient() == ActiveIngredient.SEQUESTRANT && step.gapMinutes() < gap * 60;
				// nor is a wait that labels let end within the stop drawn out to another day
				double least = Math.max(gap, Math.min(1, grown(gap, hours)));
				assertThat(step.gapMinutes() / 60.0).isBetween(little ? 0.5 : least - 1e-9, little ? 0.5 : grown(gap, hours) + 1 / 60.0);
				assertThat(plan.swim().waitHours()).isGreaterThanOrEqualTo(step.startMinutes() / 60.0 + grown(wait, hours) - 1e-9);
				longer += (step.waitHours() > wait) ? 1 : 0;
			}
			for (int n = 1; n < plan.steps().size(); n++) {
				Step before = plan.steps().get(n - 1);
				assertThat(plan.steps().get(n).startMinutes()).isGreaterThanOrEqualTo(before.startMinutes() + before.gapMinutes());
			}
		}
		assertThat(longer).isPositive();
	}

	private static double grown(double usual, double turnover) {
		double grown = Math.min(turnover, usual * Math.min(3, turnover / 8));
		return (grown <= usual) ? usual : Math.ceil(grown * 12 - 1e-6) / 12;
	}

	/** Where water is scarce none is replaced inside the acceptable range, and no more than brings a level there. */
	@Test
	void scarceWaterIsReplacedAtTheAcceptableLimitOnly() {
		Random random = new Random(44);
		int replaced = 0;
		int saved = 0;
		for (int i = 0; i < 2 * Draws.COUNT; i++) {
			PlanRequest drawn = Pools.random(random);
			TreatmentPolicy policy = TreatmentPolicy.withCeiling(10);
			PlanRequest free = new PlanRequest(drawn.pool(), drawn.readings(), Situation.ROUTINE, drawn.products(), policy,
					drawn.daysToNextVisit(), drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
			PlanRequest scarce = new PlanRequest(drawn.pool(), drawn.readings(), Situation.ROUTINE, drawn.products(),
					policy.withCosts(policy.costs().withWaterScarce(true)), drawn.daysToNextVisit(), drawn.swimWithinHours(), drawn.units(),
					drawn.lastKnown(), drawn.forecast());
			if (drawn.pool().body() == BodyOfWater.SPA || !(Planner.plan(scarce) instanceof Plan plan)
					|| !(Planner.plan(free) instanceof Plan usual)) {
				continue;
			}
			WaterReplacement less = plan.replacement();
			if (less == null) {
				saved += (usual.replacement() != null) ? 1 : 0;
				continue;
			}
			replaced++;
			assertThat(usual.replacement()).isNotNull();
			assertThat(less.litres()).isLessThanOrEqualTo(Objects.requireNonNull(usual.replacement()).litres() * (1 + 1e-9));
			assertThat(codes(less.reasons())).doesNotContain("replace.pays");
		}
		assertThat(replaced).isPositive();
		assertThat(saved).isPositive();
	}

	/** What builds up above its ideal range is met with another product first. */
	@Test
	void scarceWaterAsksForAnotherProductFirst() {
		TreatmentPolicy policy = TreatmentPolicy.withCeiling(10);
		PlanRequest request = new PlanRequest(Pools.plaster(15_000), Pools.balanced().fc(1.0).cya(60.0).ch(420.0).build(),
				Situation.ROUTINE,
				Pools.truck(), policy.withCosts(policy.costs().withWaterScarce(true)), 7, UnitSystem.US);
		Plan plan = (Plan) Planner.plan(request);
		assertThat(plan.replacement()).isNull();
		assertThat(codes(Pools.notes(plan))).contains("replace.save-cya", "replace.save-ch");
		assertThat(plan.steps()).filteredOn(step -> step.purpose() == Step.Purpose.RAISE_FC)
			.isNotEmpty()
			.allMatch(step -> step.product().kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE);
	}

	/** What the fill water brings along is said with its figures, as the forward mixture gives them. */
	@Test
	void replacingSaysWhatTheFillWaterBrings() {
		PoolFacts pool = Pools.plaster(15_000).withFill(new FillWater(8.0, 200.0, 380.0, 600.0));
		Plan plan = plan(pool, Pools.balanced().cya(160.0).ta(80.0).build());
		WaterReplacement replacement = Objects.requireNonNull(plan.replacement());
		Reason alkalinity = replacement.reasons()
			.stream()
			.filter(reason -> reason.code().equals("replace.side") && reason.args().contains(Term.of(Level.TA)))
			.findFirst()
			.orElseThrow();
		assertThat(((Term.Value) alkalinity.args().get(2)).value()).isCloseTo(80 + replacement.share() * 120, within(0.5));
	}

	/** None of them leaves a residual; copper of an ionizer is tested and stopped at its limit. */
	@Test
	void secondSystemsReplaceNoChlorineAndCopperIsWatched() {
		PoolFacts pool = Pools.plaster(15_000)
			.withEquipment(new Equipment(null, null, null, null, null, null, null, Set.of(Equipment.SecondSystem.values())));
		Plan low = plan(pool, Pools.balanced().fc(0.5).cc(1.0).build());
		assertThat(codes(low.tasks())).contains("work.no-residual", "work.uv-lamp", "work.ionizer-test");
		assertThat(low.swim().fcMinimum()).isEqualTo(plan(Pools.plaster(15_000), Pools.balanced().fc(0.5).cc(1.0).build()).swim()
			.fcMinimum());
		Plan copper = plan(pool, Pools.balanced().trace(Level.COPPER, 0.4).build());
		assertThat(codes(copper.tasks())).contains("work.ionizer-off").doesNotContain("work.ionizer-test", "work.no-residual");
	}

	/** A pool whose pH climbs each week is answered at one weekly visit in four with less alkalinity or borate, and either would lower the climb as said. */
	@Test
	void standingAcidDemandIsAnsweredByItsCause() {
		Random random = new Random(45);
		Map<String, Integer> seen = new TreeMap<>();
		for (int i = 0; i < Draws.COUNT; i++) {
			PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, random.nextBoolean() ? Sanitizer.SALT_CELL
					: Sanitizer.CHLORINE_BY_HAND);
			Readings readings = Pools.balanced().ta(Pools.round(50 + 110 * random.nextDouble(), 10))
				.ch(Pools.round(150 + 350 * random.nextDouble(), 10)).cya(50.0).salt(3200.0).build();
			PlanRequest drawn = new PlanRequest(pool, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), 7,
					UnitSystem.METRIC);
			PhDrift own = drawn.forecast().phDrift();
			int intervals = random.nextInt(8);
			PhDrift drift = new PhDrift(0.05 + 0.5 * random.nextDouble(), own.exchangeLogDeviation(), own.unexplainedPerWeek(),
					own.residualDeviation(), 0, intervals);
			int day = 1 + random.nextInt(365);
			Plan plan = (Plan) Planner
				.plan(drawn.withForecast(drawn.forecast().withPhDrift(drift).withToday(new ClimateDay(ClimateNormals.TEMPERATE, day))));
			Water water = PoolWater.of(pool, readings).water().withPh(7.5);
			double rise = drift.expectedPh(water, 0, 7).orElseThrow() - 7.5;
			Reason less = find(plan.tasks(), "work.acid-alkalinity");
			Reason borate = find(plan.tasks(), "work.acid-borate");
			if (intervals < 4 || rise < 0.3 || day % 28 >= 7) {
				assertThat(less).isNull();
				assertThat(borate).isNull();
				seen.merge("none", 1, Integer::sum);
			}
			if (less != null) {
				double alkalinity = ((Term.Value) less.args().get(2)).value();
				assertThat(alkalinity).isLessThan(readings.ta()).isGreaterThanOrEqualTo(pool.targets().range(Level.TA).idealLow());
				double then = drift.expectedPh(water.withTotalAlkalinity(alkalinity), 0, 7).orElseThrow() - 7.5;
				assertThat(((Term.Difference) less.args().get(3)).amount()).isCloseTo(Math.max(0, then), within(1e-9));
				assertThat(then).isLessThanOrEqualTo(rise - 0.1);
				seen.merge("less", 1, Integer::sum);
			}
			if (borate != null) {
				assertThat(less).isNull();
				assertThat(((Term.Difference) borate.args().get(3)).amount()).isLessThanOrEqualTo(rise - 0.1);
				seen.merge("borate", 1, Integer::sum);
			}
		}
		assertThat(seen).containsKeys("none", "less", "borate");
	}

	/** The cell is set for the hours that the plan asks the pump to run. */
	@Test
	void cellIsSetForTheHoursThePumpShallRun() {
		double litres = pool().volume().litres();
		Equipment equipment = new Equipment(new Equipment.Cell(900, 20.0, 1), 6.0, litres / 11.5, null, null, null, null, Set.of());
		Plan plan = plan(pool().withEquipment(equipment), Pools.balanced().fc(4.0).cya(70.0).salt(3200.0).build());
		Reason set = Objects.requireNonNull(find(plan.first(), "offer.cell-set"));
		assertThat(set.args().get(1)).isEqualTo(new Term.Hours(12));
		assertThat(find(plan.tasks(), "work.run-time").args()).containsExactly(new Term.Hours(12), new Term.Hours(6));
		assertThat(((Term.Chlorine) set.args().get(2)).grams()).isCloseTo(900 * 0.5 * ((Term.Number) set.args().get(0)).value() / 100,
				within(1e-9));
	}

	/** Nothing on file says nothing, and what is on file changes no dose but by the chlorine a cell, cover or bathers count for. */
	@Test
	void unknownEquipmentSaysNothing() {
		Random random = new Random(42);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			PlanRequest drawn = Pools.random(random);
			if (Planner.plan(drawn) instanceof Plan plan) {
				assertThat(codes(plan.tasks())).noneMatch(code -> code.startsWith("work.filter-dirty") || code.startsWith("offer.")
						|| code.equals("work.run-time") || code.equals("work.flow-low") || code.startsWith("work.cell-reads"));
			}
		}
	}

	private static List<Reason> work(double pumpHours, double flow) {
		Equipment equipment = new Equipment(null, pumpHours, flow, null, null, null, null, Set.of());
		return plan(Pools.plaster(15_000).withEquipment(equipment), Pools.balanced().build()).tasks();
	}

	private static List<String> filterWork(Equipment.@Nullable Filter filter, double clean, double now) {
		Equipment equipment = new Equipment(null, null, null, filter, clean, null, null, Set.of());
		Readings readings = Pools.balanced().site(new SiteConditions(now, null, null, false, false)).build();
		return codes(plan(Pools.plaster(15_000).withEquipment(equipment), readings).tasks()).stream()
			.filter(code -> code.startsWith("work.filter-"))
			.toList();
	}

	private static Equipment flow(double litresPerHour) {
		return new Equipment(null, null, litresPerHour, null, null, null, null, Set.of());
	}

	private static PlanRequest cellPool(Random random) {
		Equipment.Cell cell = new Equipment.Cell(60 + 600 * random.nextDouble(), 10.0 * random.nextInt(11),
				List.of(1, 5, 10, 20).get(random.nextInt(4)));
		PoolFacts pool = Pools.of(8000 + 30_000 * random.nextDouble(), BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL)
			.withEquipment(equipment(cell, 4 + 16 * random.nextDouble()));
		Readings readings = Pools.balanced()
			.fc(Pools.round(5 * random.nextDouble(), 0.2))
			.cya(Pools.round(40 + 30 * random.nextDouble(), 5))
			.salt(3200.0)
			.celsius(18 + 12 * random.nextDouble())
			.build();
		return new PlanRequest(pool, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), 7, UnitSystem.METRIC);
	}

	/** That chlorine is at its minimum at the next visit with another setting, from what the plan brings it to. */
	private static double chance(PlanRequest request, Plan plan, Equipment equipment) {
		PlanRequest set = new PlanRequest(request.pool().withEquipment(equipment), request.readings(), request.situation(),
				request.products(), request.policy(), request.daysToNextVisit(), request.units());
		PoolForecast supplied = request.forecast()
			.withDemand(request.forecast().demand().withSupply(set.forecast().demand().supply()));
		double minimum = ((Term.Value) plan.notes(Plan.Note.Topic.RESIDUAL_NOT_HELD).get(0).args().get(0)).value();
		return new ResidualTarget(request, supplied, minimum, request.readings().fc(), 2)
			.holdProbability(Objects.requireNonNull(plan.after().value(Level.FC)));
	}

	private static Plan plan(PoolFacts pool, Readings readings) {
		return (Plan) Planner
			.plan(new PlanRequest(pool, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), 7, UnitSystem.US));
	}

	private static PoolFacts pool() {
		return Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
	}

	private static Equipment equipment(Equipment.Cell cell, double pumpHours) {
		return new Equipment(cell, pumpHours, null, null, null, null, null, Set.of());
	}

	private static Equipment hours(Equipment equipment, double hours) {
		return new Equipment(equipment.cell(), hours, null, null, null, null, null, Set.of());
	}

	private static @Nullable Reason find(List<Reason> reasons, String code) {
		return reasons.stream().filter(reason -> reason.code().equals(code)).findFirst().orElse(null);
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

}
