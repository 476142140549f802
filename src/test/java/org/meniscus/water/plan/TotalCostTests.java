package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;

import org.junit.jupiter.api.Test;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.season.SeasonValue;
import org.meniscus.water.season.State;
import org.meniscus.water.season.TotalCost;
import org.meniscus.water.units.UnitSystem;

/** The product that costs least by the season's end, worked out by hand beside it. Prices are invented. */
class TotalCostTests {

	private static final double GALLON = 3785.411784;

	private static final double POUND = 453.59237;

	private static final PoolFacts PLASTER = Pools.plaster(15_000);

	private static final Product LIQUID = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125).withPrice(GALLON, 500L);

	private static final Product DICHLOR = Product.usual("dichlor", ProductKind.DICHLOR_56).withPrice(POUND, 200L);

	private static final Product CAL_HYPO = Product.usual("cal-hypo", ProductKind.CAL_HYPO_65).withPrice(POUND, 250L);

	private static Plan plan(Readings.Builder readings, UnaryOperator<PlanRequest> change, Product... products) {
		List<Product> onTruck = new ArrayList<>(List.of(products));
		onTruck.add(Product.usual("acid", ProductKind.MURIATIC_3145));
		return (Plan) Planner
			.plan(change.apply(new PlanRequest(PLASTER, readings.build(), Situation.ROUTINE, onTruck, TreatmentPolicy.defaults(), 0,
					UnitSystem.METRIC)));
	}

	private static ActiveIngredient chlorine(Plan plan) {
		return plan.steps()
			.stream()
			.filter(step -> step.purpose() == Step.Purpose.RAISE_FC)
			.findFirst()
			.orElseThrow()
			.product()
			.kind()
			.ingredient();
	}

	@Test
	void cheapStabilizedChlorineWinsWhileStabilizerIsWantedAndLosesWhenItHasToBeDrained() {
		Plan low = plan(Pools.balanced().fc(0.5).cya(20.0), UnaryOperator.identity(), LIQUID, DICHLOR);
		assertThat(chlorine(low)).isEqualTo(ActiveIngredient.DICHLOR);
		Plan high = plan(Pools.balanced().fc(0.5).cya(49.0),
				UnaryOperator.identity(), LIQUID, DICHLOR);
		assertThat(chlorine(high)).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		Step.Alternative dichlor = high.steps().get(0).alternatives().get(0);
		assertThat(dichlor.product()).isEqualTo(DICHLOR);
		assertThat(dichlor.cost()).isNotNull();
		assertThat(dichlor.cost().productCost()).as("cheaper today").isLessThan(high.cost().productCost());
		assertThat(dichlor.cost().withLastingEffects()).as("dearer in the end").isGreaterThan(high.cost().withLastingEffects());
		assertThat(dichlor.reason().code()).isEqualTo("alternative.leaves");
	}

	@Test
	void whatStaysIsPricedByTheValueOfTheYearsAhead() {
		PlanRequest request = new PlanRequest(PLASTER, Pools.balanced().cya(49.0).fc(0.5).build(), Situation.ROUTINE, List.of(DICHLOR),
				TreatmentPolicy.defaults(), 0, UnitSystem.METRIC);
		Plan plan = (Plan) Planner.plan(request);
		TotalCost.LevelCost left = plan.cost().levelCosts().stream().filter(one -> one.level() == Level.CYA).findFirst().orElseThrow();
		double brought = plan.after().value(Level.FC, 0) - 0.5;
		assertThat(left.change()).isCloseTo(brought * Stoichiometry.CYA_PER_DICHLOR_CHLORINE, within(1e-6));
		SeasonValue value = SeasonValue.of(PLASTER, request.policy(), new PriceList(request.products(), 15_000 * 3.785411784),
				request.forecast(), PoolWater.of(PLASTER, request.readings()).water(), 0);
		assertThat(left.cost()).isPositive()
			.isCloseTo(value.atNextVisit(new State(49 + left.change(), 280)) - value.atNextVisit(new State(49, 280)), within(1e-6));
		assertThat(plan.cost().withLastingEffects()).isCloseTo(
				plan.cost().productCost() + plan.cost().levelCosts().stream().mapToDouble(TotalCost.LevelCost::cost).sum(),
				within(1e-9));
	}

	@Test
	void whatIsMissingAnywayIsSavedAtThePriceOfBuyingIt() {
		// At CYA 0 what dichlor brings would be bought as stabilizer: 99 % at 400 a pound, as near as prices are rounded.
		Product stabilizer = Product.usual("stabilizer", ProductKind.CYA).withPrice(POUND, 400L).withOnTruck(false);
		Plan plan = plan(Pools.balanced().cya(0.0).fc(0.5), UnaryOperator.identity(), DICHLOR, stabilizer);
		TotalCost.LevelCost left = plan.cost().levelCosts().stream().filter(one -> one.level() == Level.CYA).findFirst().orElseThrow();
		double perPpm = 15_000 * 3.785411784 / 1000 / 0.99 / POUND * 400;
		assertThat(left.cost()).isCloseTo(-left.change() * perPpm, within(0.2 * left.change() * perPpm));
	}

	@Test
	void calciumIsACreditInSoftWaterAndACostInHardWater() {
		// People come tomorrow: no wait is dear.
		Plan soft = plan(Pools.balanced().fc(0.5).ph(7.3).ch(120.0),
				request -> new PlanRequest(request.pool(), request.readings(), request.situation(), request.products(), request.policy(),
						request.daysToNextVisit(), 24.0, request.units(), request.lastKnown(), request.forecast()),
				LIQUID, CAL_HYPO);
		Plan hard = plan(Pools.balanced().fc(0.5).ph(7.3).ch(340.0),
				request -> request.withForecast(request.forecast()
					.withToday(new ClimateDay(ClimateNormals.HOT_DRY, 150))
					.withSeason(180, 1.5, Map.of(Level.CH, 3.0))),
				LIQUID, CAL_HYPO);
		assertThat(chlorine(soft)).isEqualTo(ActiveIngredient.CALCIUM_HYPOCHLORITE);
		assertThat(chlorine(hard)).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
	}

	@Test
	void theCompanyPinsOrBansAProduct() {
		Readings.Builder low = Pools.balanced().fc(0.5).cya(20.0);
		assertThat(chlorine(plan(low, UnaryOperator.identity(), LIQUID.withPreference(ProductPreference.FIRST), DICHLOR)))
			.isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		Plan banned = plan(low, UnaryOperator.identity(), LIQUID, DICHLOR.withPreference(ProductPreference.NEVER));
		assertThat(chlorine(banned)).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		assertThat(banned.steps().get(0).alternatives()).extracting(other -> other.reason().code()).contains("reject.company");
	}

	@Test
	void whereNoPriceIsKnownTheUsualOneStandsInAndIsSaidSo() {
		Plan plan = plan(Pools.balanced().fc(0.5), UnaryOperator.identity(), LIQUID.withPrice(GALLON, null));
		assertThat(plan.cost().allPriced()).isFalse();
		assertThat(plan.steps()).extracting(Step::costCents).containsNull();
		assertThat(plan.cost().productCost()).isPositive();
	}

	@Test
	void everyOtherProductIsNamedWithItsCostOrOneReason() {
		Plan plan = plan(Pools.balanced().fc(0.5).cya(20.0), UnaryOperator.identity(), LIQUID, DICHLOR, CAL_HYPO,
				Product.usual("dear", ProductKind.LIQUID_CHLORINE_125).withPrice(GALLON, 900L),
				Product.usual("tabs", ProductKind.TRICHLOR_TAB));
		Step step = plan.steps().stream().filter(one -> one.purpose() == Step.Purpose.RAISE_FC).findFirst().orElseThrow();
		assertThat(step.alternatives()).extracting(other -> other.product().id()).containsExactlyInAnyOrder("liquid", "cal-hypo", "dear",
				"tabs");
		double least = plan.cost().withLastingEffects();
		assertThat(step.alternatives()).filteredOn(other -> other.cost() != null)
			.hasSize(2)
			.allSatisfy(other -> assertThat(other.cost().withLastingEffects()).isGreaterThan(least - 5));
	}

}
