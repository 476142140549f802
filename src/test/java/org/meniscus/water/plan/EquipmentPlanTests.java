package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
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
