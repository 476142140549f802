package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** What slow levels do by themselves, in the forecast and in the cost by the season's end. Figures made up. */
class BaselineDriftTests {

	private static final PoolFacts FEEDER = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.TABLET_FEEDER);

	private static Plan plan(PoolFacts pool, Readings readings, PoolForecast forecast, Product... products) {
		return (Plan) Planner.plan(new PlanRequest(pool, readings, Situation.ROUTINE, List.of(products), TreatmentPolicy.defaults(), 7,
				UnitSystem.METRIC)
			.withForecast(forecast));
	}

	/** By how much the plan expects CYA to rise until the next visit, ppm. */
	private static double rise(PoolForecast forecast) {
		Plan plan = plan(FEEDER, Pools.balanced().build(), forecast);
		return plan.outcome().nextVisit().get(Level.CYA).middle() - plan.after().value(Level.CYA, 0);
	}

	/** With so much FC a day from tablets, ppm. */
	private static PoolForecast fed(double perDay) {
		PoolForecast forecast = PoolForecast.expected(FEEDER);
		PhDrift ph = forecast.phDrift();
		return forecast.withPhDrift(new PhDrift(ph.exchangeRate(), ph.exchangeLogDeviation(), ph.unexplainedPerWeek(),
				ph.residualDeviation(), perDay, ph.intervals()));
	}

	/** Trichlor leaves 0.607 ppm CYA per ppm of its chlorine: molar masses 129.075 / (3 x 70.906). */
	@Test
	void tabletsThatAClientFeedsCountOnce() {
		PoolForecast client = fed(1.2);
		assertThat(rise(client)).isCloseTo(7 * 1.2 * 0.607, within(0.01));
		assertThat(rise(client.withSeason(180, 1.5, Map.of(Level.CYA, 0.5)))).as("they are what drifts").isCloseTo(7 * 0.5, within(1e-9));
		assertThat(rise(client.withSeason(180, 1.5, Map.of(Level.CH, 0.5)))).isCloseTo(7 * 1.2 * 0.607, within(0.01));
	}

	@Test
	void tabletsOnRecordCountBesideTheDrift() {
		PoolForecast service = fed(1.2).withTablets(new DissolvingTablets(8.4, 1.2)).withSeason(180, 1.5, Map.of(Level.CYA, -0.1));
		assertThat(rise(service)).isCloseTo(7 * (1.2 * 0.607 - 0.1), within(0.01));
	}

	/** Salt is carried in a cell's pool: what is there now and gone by the season's end is credited, and no more. */
	@Test
	void aLevelDriftsToNothingAndNotBeyond() {
		PoolFacts cell = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.SALT_CELL);
		assertThat(salt(cell, -1)).isCloseTo(salt(cell, -60), within(1e-6));
		assertThat(salt(cell, 0)).as("what is there is not bought again").isGreaterThan(salt(cell, -1) + 10);
	}

	/** Cost by the season's end of the salt that a plan puts in, minor units. */
	private static double salt(PoolFacts cell, double drift) {
		Product salt = Product.usual("salt", ProductKind.SALT).withPrice(1000, 100L);
		Plan plan = plan(cell, Pools.balanced().salt(150.0).build(),
				PoolForecast.expected(cell).withSeason(180, 1.5, Map.of(Level.SALT, drift)), salt);
		return plan.cost().levelCosts().stream().filter(left -> left.level() == Level.SALT).findFirst().orElseThrow().cost();
	}

}
