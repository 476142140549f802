package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.PoolKind.Feed;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.units.Temperature;

/** What demand and pH drift are learnt from: ends of what is possible, tablets by arithmetic. */
class DemandInputTests {

	private static final Water WATER = Water.of(7.5, 100, 300, 40, 3, 1000, 0, Temperature.ofCelsius(26));

	@ParameterizedTest
	@CsvSource({ "7, 0, 0, 0, 0, 0, 100, true", "7, 0, 0, 0, 0, 0, 100.1, false", "0, 3, 0.2, 1, 0, 40, 26, false",
			"0.1, 3, 0.2, 1, 0, 40, 26, true", "7, -0.1, 0.2, 1, 0, 40, 26, false", "7, 3, -0.1, 1, 0, 40, 26, false",
			"7, 3, 0.2, -0.1, 0, 40, 26, false", "7, 3, 0.2, 1, -0.1, 40, 26, false", "7, 3, 0.2, 1, 0, -1, 26, false",
			"7, Infinity, 0.2, 1, 0, 40, 26, false", "7, NaN, 0.2, 1, 0, 40, 26, false" })
	void intervalsHoldOnlyPossibleFigures(double days, double start, double deviation, double end, double tablets, double cya,
			double celsius, boolean possible) {
		if (possible) {
			assertThatCode(() -> new DemandInterval(days, start, deviation, end, tablets, celsius, cya, false)).doesNotThrowAnyException();
		}
		else {
			assertThatIllegalArgumentException()
				.isThrownBy(() -> new DemandInterval(days, start, deviation, end, tablets, celsius, cya, false));
		}
	}

	@ParameterizedTest
	@CsvSource({ "7, 7.5, 0, true", "0, 7.5, 0, false", "7, 0, 0, false", "7, 14, 0, false", "7, 13.9, 0, true", "7, 7.5, -0.1, false" })
	void phIntervalsHoldOnlyPossibleFigures(double days, double ph, double tablets, boolean possible) {
		if (possible) {
			assertThatCode(() -> new PhInterval(WATER, 1, tablets, days, ph)).doesNotThrowAnyException();
		}
		else {
			assertThatIllegalArgumentException().isThrownBy(() -> new PhInterval(WATER, 1, tablets, days, ph));
		}
		assertThatIllegalArgumentException().isThrownBy(() -> new PhInterval(WATER, Double.NaN, 0, 7, 7.5));
	}

	/** 14 ppm dissolve by 2 ppm a day; 7 more bring 1 ppm a day for a week. */
	@Test
	void tabletsDissolveOverAWeek() {
		DissolvingTablets tablets = DissolvingTablets.NONE.plus(14);
		assertThat(tablets).isEqualTo(new DissolvingTablets(14, 2));
		assertThat(tablets.plus(7)).isEqualTo(new DissolvingTablets(21, 3));
		assertThat(tablets.dissolvedWithin(3)).isCloseTo(6, within(1e-12));
		assertThat(tablets.dissolvedWithin(10)).isEqualTo(14);
		assertThatIllegalArgumentException().isThrownBy(() -> new DissolvingTablets(-0.1, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new DissolvingTablets(0, -0.1));
	}

	@Test
	void tabletsThatAreDissolvedBringNothing() {
		assertThat(new DissolvingTablets(0, 2).dissolvedWithin(7)).isZero();
		assertThat(new DissolvingTablets(14, 0).dissolvedWithin(7)).isZero();
	}

	/** 7 ppm more in a floater with nothing in it: 1 ppm a day for a week, a fifth of it uncertain, and pH reckons with the same tablets. */
	@Test
	void tabletsPutInTodayAreSupplyUntilTheNextVisit() {
		PoolForecast floater = PoolForecast.expected(pool(Sanitizer.FLOATER));
		PoolForecast fed = floater.withTabletsAdded(7, 7);
		assertThat(fed.demand().supply()).isCloseTo(1, within(1e-12));
		assertThat(fed.demand().supplyDeviation()).isCloseTo(0.2, within(1e-12));
		assertThat(fed.phDrift().tablets()).isCloseTo(1, within(1e-12));
		assertThat(fed.tablets()).isEqualTo(new DissolvingTablets(7, 1));
		assertThat(fed.demand().use(3)).isEqualTo(floater.demand().use(3));
		assertThat(floater.withTabletsAdded(7, 14).demand().supply()).as("dissolved after a week").isCloseTo(0.5, within(1e-12));
		assertThat(floater.withTabletsAdded(7, 0)).isEqualTo(floater);
		PoolForecast byHand = PoolForecast.expected(pool(Sanitizer.CHLORINE_BY_HAND));
		assertThat(byHand.withTabletsAdded(7, 7)).isEqualTo(byHand);
	}

	@Test
	void forecastsLookAheadAndUseNothingBelowZero() {
		PoolForecast forecast = PoolForecast.expected(pool(Sanitizer.FLOATER));
		assertThat(forecast.daysToSeasonEnd()).as("half a year").isEqualTo(180);
		assertThat(forecast.seasonUse()).isCloseTo(forecast.demand().use(3).middle(), within(1e-12));
		PoolForecast ends = forecast.withSeason(0, 0, Map.of(Level.CYA, -0.1));
		assertThat(ends.daysToSeasonEnd()).isZero();
		assertThat(ends.driftPerDay()).containsExactly(Map.entry(Level.CYA, -0.1));
		assertThat(ends.demand()).isEqualTo(forecast.demand());
		assertThatIllegalArgumentException().isThrownBy(() -> forecast.withSeason(-1, 1, Map.of()));
		assertThatIllegalArgumentException().isThrownBy(() -> forecast.withSeason(1, -0.1, Map.of()));
		assertThatIllegalArgumentException().isThrownBy(() -> forecast.withSeason(1, Double.NaN, Map.of()));
	}

	@ParameterizedTest
	@CsvSource({ "0, 0, 0, 0, 0, 0, true", "-0.1, 0, 0, 0, 0, 0, false", "0, -0.1, 0, 0, 0, 0, false", "0, 0, -0.1, 0, 0, 0, false",
			"0, 0, 0, -0.1, 0, 0, false", "0, 0, 0, 0, -0.1, 0, false", "0, 0, 0, 0, 0, -0.1, false", "Infinity, 0, 0, 0, 0, 0, false",
			"NaN, 0, 0, 0, 0, 0, false" })
	void demandsHoldOnlyPossibleFigures(double firstOrder, double zeroOrder, double supply, double error, double prediction,
			double supplyDeviation, boolean possible) {
		if (possible) {
			assertThat(new ChlorineDemand(firstOrder, zeroOrder, supply, error, prediction, supplyDeviation, 0).learnt()).isFalse();
		}
		else {
			assertThatIllegalArgumentException()
				.isThrownBy(() -> new ChlorineDemand(firstOrder, zeroOrder, supply, error, prediction, supplyDeviation, 0));
		}
	}

	@Test
	void tabletsEndAtTheTradesLimitOrThePoolsOwn() {
		assertThat(DissolvingTablets.cyaLimit(pool(Sanitizer.TABLET_FEEDER))).as("products.csv: not from 80").isEqualTo(80);
		Range own = new Range(0, 30, 40, 60, "own");
		PoolFacts less = pool(Sanitizer.TABLET_FEEDER);
		assertThat(DissolvingTablets.cyaLimit(less.withTargets(less.targets().with(Map.of(Level.CYA, own))))).isEqualTo(60);
		assertThat(DissolvingTablets.cyaLimit(pool(Sanitizer.SALT_CELL))).as("80 at most").isEqualTo(80);
		assertThat(DissolvingTablets.cyaLimit(pool(Sanitizer.BROMINE))).as("not kept on chlorine").isZero();
	}

	@ParameterizedTest
	@CsvSource({ "SALT_CELL, CELL, false", "TABLET_FEEDER, TABLETS, false", "FLOATER, NONE, true", "CHLORINE_BY_HAND, NONE, false" })
	void kindAndForecastOfAPoolFollowItsSanitizer(Sanitizer sanitizer, Feed feed, boolean decidesOnTablets) {
		PoolFacts pool = pool(sanitizer);
		PoolKind kind = PoolForecast.poolKind(pool, 26);
		assertThat(kind.feed()).isEqualTo(feed);
		assertThat(kind.spa()).isFalse();
		assertThat(kind.litres()).isCloseTo(15_000 * 3.785411784, within(1e-6));
		assertThat(PoolForecast.expected(pool).tablets() != null).isEqualTo(decidesOnTablets);
	}

	/** Bathers and leaves count more in less water: by the cube root of 60,000 L, within 0.7 and 1.6. */
	@ParameterizedTest
	@CsvSource({ "60000, 1", "20000, 1.4422", "1000, 1.6", "120000, 0.7937", "1000000, 0.7" })
	void smallerPoolsUseMoreWhateverIsThere(double litres, double factor) {
		double usual = new PoolKind(false, false, 60_000.0, Feed.NONE).zeroOrderRate(29);
		assertThat(new PoolKind(false, false, litres, Feed.NONE).zeroOrderRate(29) / usual).isCloseTo(factor, within(1e-4));
		assertThat(new PoolKind(false, false, null, Feed.NONE).zeroOrderRate(29)).isEqualTo(usual);
	}

	private static PoolFacts pool(Sanitizer sanitizer) {
		return Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer);
	}

}
