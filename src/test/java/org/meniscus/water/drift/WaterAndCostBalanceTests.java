package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonVisit.Dose;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;

/** Water and money in and out of a pool, worked out by hand beside the engine. Parameters: docs/season.md. */
class WaterAndCostBalanceTests {

	private static final long JUNE = LocalDate.of(2026, 6, 1).toEpochDay();

	private static final DriftEngine ENGINE = new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 200, 0.76));

	/** 60 m3 under 42 m2, filled by a float valve with water of 200 ppm CH. */
	private static SeasonRecord record(List<SeasonVisit> visits) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, Map.of(Level.CH, 200.0),
				Map.of(Level.CYA, new Range(30, 30, 50, 100, "made up"), Level.CH, new Range(150, 200, 400, 1000, "made up")), null);
		return new SeasonRecord(pool, visits, TechnicianBias.NONE);
	}

	private static double cyaAfterTenWeeks(boolean backwashed) {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 10; week++) {
			Map<Level, Reading> readings = (week == 0)
					? Map.of(Level.CYA, new Reading(60, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER)) : Map.of();
			visits.add(new SeasonVisit(JUNE + 7L * week, "T", readings, List.of(), backwashed && week < 10, 0));
		}
		long today = JUNE + 70;
		return ENGINE.assess(record(visits), today, today + 90, Map.of()).level(Level.CYA).orElseThrow().today().middle();
	}

	/** Ten backwashes of 0.5 to 1.4 m3 (docs/season.md) out of 60 m3, made up with water without stabilizer: (1 - 0.95 / 60)^10. */
	@Test
	void backwashTakesItsWaterAndTheStabilizerInIt() {
		double kept = cyaAfterTenWeeks(true) / cyaAfterTenWeeks(false);
		assertThat(kept).isCloseTo(Math.pow(1 - 0.95 / 60, 10), within(0.02));
	}

	/**
	 * 7 ppm of chlorine at each weekly visit are 420 g in 60 m3. Today's dose is put in already; three more until the end are 1.26 kg,
	 * at 10 a kilogram 12.60. July is warmer than the weeks before and takes more, by less than a third.
	 */
	@Test
	void chemicalsOfAScenarioCostByTheKilogram() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 4; week++) {
			visits.add(new SeasonVisit(JUNE + 7L * week, "T",
					Map.of(Level.CYA, new Reading(60, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER)),
					List.of(new Dose(DoseKind.LIQUID_CHLORINE, 7, Map.of(), 1)), false, 0));
		}
		Scenario.Prices prices = new Scenario.Prices(Map.of(DoseKind.LIQUID_CHLORINE, 10.0), 3, 60);
		Scenario.Cost cost = Objects.requireNonNull(ENGINE
			.compare(record(visits), JUNE + 28, JUNE + 56, List.of(new Scenario("as now", List.of())), prices)
			.get(0)
			.cost());
		assertThat(cost.chemicals()).isBetween(12.60, 12.60 * 4 / 3);
	}

	private static double scaledOut(double ch) {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 12; week++) {
			visits.add(new SeasonVisit(JUNE + 7L * week, "T",
					Map.of(Level.CH, new Reading(ch, ReadingQualifier.EXACT, TestPrecision.titration(10))), List.of(), false, 0));
		}
		long today = JUNE + 84;
		double part = Objects
			.requireNonNull(ENGINE.explain(record(visits), today, today + 90, Map.of()).level(Level.CH).orElseThrow().causes())
			.part(DriftCause.PLASTER_AND_SCALE);
		return 0 - part;
	}

	/** Scale falls out of hard water only: from 450 ppm (docs/season.md). */
	@Test
	void calciumScalesOutOnlyAbove450() {
		assertThat(scaledOut(420)).isBetween(0.0, 0.2);
		assertThat(scaledOut(650)).isGreaterThan(2);
	}

}
