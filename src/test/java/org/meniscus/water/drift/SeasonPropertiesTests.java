package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonVisit.Dose;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;

/** What must hold for any season: parts add up, courses meet today, plaster gives off what it has, notes say since when. */
class SeasonPropertiesTests {

	private static final long MAY = LocalDate.of(2026, 5, 1).toEpochDay();

	private static final Range CYA = new Range(30, 30, 50, 100, "made up");

	private static final Range CH = new Range(150, 200, 400, 1000, "made up");

	private static final DriftEngine ENGINE = new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(200, 100, 0.76));

	private static SeasonRecord record(boolean newPlaster, Range cya, List<SeasonVisit> visits) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, newPlaster, true, true, false, Map.of(Level.CH, 200.0),
				Map.of(Level.CYA, cya, Level.CH, CH), null);
		return new SeasonRecord(pool, visits, TechnicianBias.NONE);
	}

	private static SeasonVisit visit(long day, @Nullable Double cya, @Nullable Double ch, List<Dose> doses, double replaced) {
		Map<Level, Reading> readings = new EnumMap<>(Level.class);
		if (cya != null) {
			readings.put(Level.CYA, new Reading(cya, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER));
		}
		if (ch != null) {
			readings.put(Level.CH, new Reading(ch, ReadingQualifier.EXACT, TestPrecision.titration(10)));
		}
		return new SeasonVisit(day, "T", readings, doses, false, replaced);
	}

	/** Tablets and calcium hypochlorite week by week, a drain of 40 % in the fifth, stabilizer in the seventh. */
	private static List<SeasonVisit> eventfulSeason() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 10; week++) {
			List<Dose> doses = new ArrayList<>(List.of(new Dose(DoseKind.TABLETS, 4.6, Map.of(Level.CYA, 2.8), 7),
					new Dose(DoseKind.CALCIUM_HYPOCHLORITE, 5, Map.of(Level.CH, 3.6), 0)));
			if (week == 7) {
				doses.add(new Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, 15.0), 0));
			}
			boolean test = week % 5 == 0;
			visits.add(visit(MAY + 7L * week, test ? Double.valueOf((week == 0) ? 60 : 58) : null,
					test ? Double.valueOf((week == 0) ? 350 : 330) : null, doses, (week == 5) ? 0.4 : 0));
		}
		return visits;
	}

	/** Conservation of mass: whatever came and went is attributed to something, to 0.01 ppm (docs/season.md). */
	@Test
	void partsAddUpToTheChange() {
		SeasonDrift drift = ENGINE.explain(record(true, CYA, eventfulSeason()), MAY + 70, MAY + 160, Map.of());
		for (Level level : List.of(Level.CYA, Level.CH)) {
			LevelDrift of = drift.level(level).orElseThrow();
			LevelDrift.Causes causes = Objects.requireNonNull(of.causes());
			assertThat(causes.parts().values().stream().mapToDouble(Double::doubleValue).sum()).isCloseTo(causes.change(), within(0.01));
			assertThat(causes.start().middle() + causes.change())
				.isCloseTo(Objects.requireNonNull(of.today()).middle(), within(1e-9));
			assertThat(causes.unrecorded().middle()).isCloseTo(causes.part(DriftCause.UNRECORDED), within(1e-9));
		}
	}

	/** Per ppm that a dose makes in the recorded volume the true pool may get some more or less; the drain took 40 % of 50 to 80 ppm. */
	@Test
	void recordedProductsAndDrainsAreFoundAmongTheCauses() {
		SeasonDrift drift = ENGINE.explain(record(false, CYA, eventfulSeason()), MAY + 70, MAY + 160, Map.of());
		LevelDrift.Causes cya = Objects.requireNonNull(drift.level(Level.CYA).orElseThrow().causes());
		LevelDrift.Causes ch = Objects.requireNonNull(drift.level(Level.CH).orElseThrow().causes());
		assertThat(cya.part(DriftCause.TABLETS)).isCloseTo(28, within(5.0));
		assertThat(cya.part(DriftCause.STABILIZER)).isCloseTo(15, within(3.0));
		assertThat(cya.part(DriftCause.STABILIZER) / cya.part(DriftCause.TABLETS)).isCloseTo(15 / 28.0, within(0.02));
		assertThat(cya.part(DriftCause.CALCIUM_HYPOCHLORITE)).isZero();
		assertThat(cya.part(DriftCause.DILUTION)).isBetween(-45.0, -20.0);
		assertThat(cya.part(DriftCause.FILL_WATER)).as("makes up without any for what evaporates without any").isCloseTo(0, within(0.5));
		assertThat(ch.part(DriftCause.CALCIUM_HYPOCHLORITE)).isCloseTo(36, within(6.0));
		assertThat(ch.part(DriftCause.DILUTION)).isBetween(-200.0, -110.0);
		// 40 % of water of 200 ppm, and what makes up for evaporation
		assertThat(ch.part(DriftCause.FILL_WATER)).isBetween(80.0, 200.0);
		assertThat(ch.part(DriftCause.TABLETS)).isZero();
	}

	/** Week by week from the first visit on, the last point today; every band holds its middle. */
	@Test
	void pastRunsFromTheStartToToday() {
		for (int days : new int[]{ 70, 74 }) {
			LevelDrift cya = ENGINE.explain(record(false, CYA, eventfulSeason()), MAY + days, MAY + 160, Map.of()).level(Level.CYA)
				.orElseThrow();
			List<Long> expected = new ArrayList<>();
			for (long day = 0; day <= days; day += 7) {
				expected.add(MAY + day);
			}
			if (days % 7 != 0) {
				expected.add(MAY + days);
			}
			assertThat(cya.past()).extracting(DatedBand::day).containsExactlyElementsOf(expected);
			DatedBand last = cya.past().get(cya.past().size() - 1);
			assertThat(last.band().middle()).isCloseTo(Objects.requireNonNull(cya.today()).middle(), within(0.01));
			assertThat(cya.past().get(0).band().middle()).isCloseTo(Objects.requireNonNull(cya.causes()).start().middle(), within(0.01));
			assertThat(cya.past().get(6).band().middle()).as("after the drain").isLessThan(0.85 * cya.past().get(5).band().middle());
		}
	}

	/** In days ahead: each week and the last, none twice, also where the last is a week's. */
	@ParameterizedTest
	@ValueSource(ints = { 90, 91, 98 })
	void forecastHasEachWeekAndTheLastDayOnce(int days) {
		LevelDrift cya = ENGINE.assess(record(false, CYA, eventfulSeason()), MAY + 70, MAY + 70 + days, Map.of()).level(Level.CYA)
			.orElseThrow();
		List<Long> ahead = cya.forecast().stream().map(point -> point.day() - MAY - 70).toList();
		assertThat(ahead).isSorted().doesNotHaveDuplicates().hasSize((days + 6) / 7 + 1);
		assertThat(ahead.get(0)).isZero();
		assertThat(ahead.get(ahead.size() - 1)).isEqualTo(days);
	}

	/**
	 * 66 ppm in the median, spread of ln 0.3 (docs/season.md): 66 exp(0.045) = 69 in the mean, of which 1 - exp(-56/25) = 0.894 in eight weeks
	 * and 0.98 in fourteen.
	 */
	@Test
	void newPlasterRaisesHardnessByWhatItGivesOff() {
		List<SeasonVisit> visits = List.of(visit(MAY, null, 250.0, List.of(), 0), visit(MAY + 56, 40.0, null, List.of(), 0));
		LevelDrift fresh = ENGINE.explain(record(true, CYA, visits), MAY + 56, MAY + 154, Map.of()).level(Level.CH).orElseThrow();
		LevelDrift old = ENGINE.explain(record(false, CYA, visits), MAY + 56, MAY + 154, Map.of()).level(Level.CH).orElseThrow();
		double today = Objects.requireNonNull(fresh.today()).middle() - Objects.requireNonNull(old.today()).middle();
		assertThat(today).isCloseTo(69 * 0.894, within(9.0));
		double gained = Objects.requireNonNull(fresh.causes()).part(DriftCause.PLASTER_AND_SCALE)
				- Objects.requireNonNull(old.causes()).part(DriftCause.PLASTER_AND_SCALE);
		assertThat(gained).isCloseTo(69 * 0.894, within(9.0));
		double end = last(fresh).middle() - last(old).middle();
		// backwashing (1.6 % of the water each 25 days) and splash-out (0.02 % a day) thin what is there by 8 % in fourteen weeks
		assertThat(end - today).as("the rest").isCloseTo(69 * 0.09 - 0.08 * 69 * 0.894, within(9.0));
		LevelDrift young = ENGINE.assess(record(true, CYA, visits.subList(0, 1)), MAY, MAY + 90, Map.of()).level(Level.CH).orElseThrow();
		LevelDrift aged = ENGINE.assess(record(false, CYA, visits.subList(0, 1)), MAY, MAY + 90, Map.of()).level(Level.CH).orElseThrow();
		assertThat(last(young).middle() - last(aged).middle()).as("still to come").isCloseTo(69 * 0.973, within(12.0));
	}

	private static Band last(LevelDrift drift) {
		return drift.forecast().get(drift.forecast().size() - 1).band();
	}

	@Test
	void readingsOfSixtyOneDaysAgoAreStale() {
		List<SeasonVisit> visits = List.of(visit(MAY, 50.0, null, List.of(), 0), visit(MAY + 7, 52.0, null, List.of(), 0));
		for (int days : new int[]{ 60, 61 }) {
			LevelDrift cya = ENGINE.assess(record(false, CYA, visits), MAY + 7 + days, MAY + 200, Map.of()).level(Level.CYA).orElseThrow();
			List<DriftNote> stale = cya.notes().stream().filter(note -> note.code() == DriftNote.Code.STALE).toList();
			assertThat(stale).isEqualTo((days == 60) ? List.of() : List.of(DriftNote.of(DriftNote.Code.STALE, Level.CYA, 61)));
			assertThat(cya.notes()).noneMatch(note -> note.code() == DriftNote.Code.ONE_READING);
		}
	}

	/** A band wider than the range from 48 to 52 says nothing; the note has both widths. */
	@Test
	void forecastWiderThanTheRangeIsNoted() {
		Range narrow = new Range(48, 49, 51, 52, "made up");
		LevelDrift cya = ENGINE.assess(record(false, narrow, eventfulSeason()), MAY + 70, MAY + 170, Map.of()).level(Level.CYA)
			.orElseThrow();
		DriftNote wide = cya.notes().stream().filter(note -> note.code() == DriftNote.Code.TOO_WIDE).findFirst().orElseThrow();
		assertThat(wide.figures().get(0)).isCloseTo(last(cya).width(), within(1e-9));
		assertThat(wide.figures().get(1)).isCloseTo(4, within(1e-9));
		LevelDrift usual = ENGINE
			.assess(record(false, new Range(0, 30, 50, 300, "made up"), eventfulSeason()), MAY + 70, MAY + 170, Map.of())
			.level(Level.CYA).orElseThrow();
		assertThat(usual.notes()).noneMatch(note -> note.code() == DriftNote.Code.TOO_WIDE);
	}

	/**
	 * Eight silent visits in a row after eight with tablets: given up, and with them 2.8 ppm a week in twelve weeks of autumn, in which a pool
	 * takes half as much or more of what it took in summer: 17 to 34 ppm.
	 */
	@Test
	void tabletsThatWereGivenUpDoNotGoOn() {
		List<SeasonVisit> fed = new ArrayList<>();
		List<SeasonVisit> left = new ArrayList<>();
		for (int week = 0; week <= 16; week++) {
			List<Dose> tablets = List.of(new Dose(DoseKind.TABLETS, 4.6, Map.of(Level.CYA, 2.8), 7));
			boolean test = week % 4 == 0;
			// 2.8 ppm a week less 0.25 % a day; without tablets that loss alone
			double with = 30 + 2 * week;
			double without = 30 + 2 * Math.min(8, week) - 0.8 * Math.max(0, week - 8);
			fed.add(visit(MAY + 7L * week, test ? Double.valueOf(with) : null, null, tablets, 0));
			left.add(visit(MAY + 7L * week, test ? Double.valueOf(without) : null, null, (week < 8) ? tablets : List.of(), 0));
		}
		long today = MAY + 112;
		LevelDrift goes = ENGINE.assess(record(false, CYA, fed), today, today + 84, Map.of()).level(Level.CYA).orElseThrow();
		LevelDrift rests = ENGINE.assess(record(false, CYA, left), today, today + 84, Map.of()).level(Level.CYA).orElseThrow();
		double on = last(goes).middle() - Objects.requireNonNull(goes.today()).middle();
		double off = last(rests).middle() - Objects.requireNonNull(rests.today()).middle();
		assertThat(off).as("stabilizer breaks down and leaves with water").isNegative();
		assertThat(on - off).isBetween(17.0, 34.0);
	}

	/** A flag speaks of twelve weeks; near the season's end the forecast goes on for it, what is said of the season's end does not. */
	@Test
	void forecastReachesTwelveWeeksAlsoAtTheSeasonsEnd() {
		long today = MAY + 70;
		LevelDrift cya = ENGINE.assess(record(false, new Range(30, 30, 50, 66, "made up"), eventfulSeason()), today, today + 30, Map.of())
			.level(Level.CYA).orElseThrow();
		assertThat(cya.forecast().get(cya.forecast().size() - 1).day()).isEqualTo(today + 84);
		LevelDrift.RangeExit high = Objects.requireNonNull(cya.exits().get(RangeEnd.HIGH));
		for (LevelDrift.DatedChance chance : high.chances()) {
			if (chance.day() == today + 28 || chance.day() == today + 84) {
				double stated = (chance.day() == today + 84) ? high.probabilityWithinHorizon() : high.probabilityBySeasonEnd();
				assertThat(stated).isGreaterThanOrEqualTo(chance.probability());
			}
		}
		assertThat(high.probabilityBySeasonEnd()).isLessThan(high.probabilityWithinHorizon());
	}

	/**
	 * docs/season.md does not know what a pool takes of which no chlorine is on record; the engine then reckons with 1.35 ppm on a warm day
	 * (assumption). In 28 days of June at 60 m3 and 10 a kilogram: 1.35 g/m3 × 60 m3 × the demand of those days.
	 */
	@Test
	void chlorineOfAScenarioIsTheUsualOneWhereNoneIsOnRecord() {
		long june = LocalDate.of(2026, 6, 1).toEpochDay();
		SeasonRecord record = record(false, CYA, List.of(visit(june, 40.0, 300.0, List.of(), 0)));
		Scenario tablets = new Scenario("tablets", List.of(new Scenario.Change.ProductSwitch(june, Map.of(DoseKind.TABLETS, 1.0))));
		Scenario.Prices prices = new Scenario.Prices(Map.of(DoseKind.TABLETS, 10.0), 3, 60);
		List<Scenario.Outcome> outcomes = ENGINE.compare(record, june, june + 28, List.of(new Scenario("as now", List.of()), tablets),
				prices);
		double demand = 0;
		for (long day = june; day < june + 28; day++) {
			double warmth = Math.pow(2, (ClimateNormals.HOT_DRY.at(day).waterTemperature() - 29) / 8);
			demand += 0.15 + 0.85 * Math.max(0.12, Math.min(1.3, warmth));
		}
		assertThat(Objects.requireNonNull(outcomes.get(0).cost()).chemicals()).isZero();
		double cost = Objects.requireNonNull(outcomes.get(1).cost()).chemicals();
		assertThat(cost).isCloseTo(1.35 * demand * 60 / 1000 * 10, within(0.15 * cost));
		double raised = last(outcomes.get(1)) - last(outcomes.get(0));
		assertThat(raised).as("0.607 ppm of stabilizer with each ppm of chlorine").isCloseTo(0.607 * 1.35 * demand, within(0.15 * raised));
	}

	private static double last(Scenario.Outcome outcome) {
		List<DatedBand> ahead = Objects.requireNonNull(outcome.forecast().get(Level.CYA));
		return ahead.get(ahead.size() - 1).band().middle();
	}

	/** docs/season.md: leaks and unrecorded sources begin with 0.2 and 0.5 % a week and end with as much. In ten weeks: 2 and 5 %. */
	@Test
	void leaksAndUnrecordedSourcesBeginAndEnd() {
		int count = 20_000;
		boolean[] follows = new boolean[SlowLevels.COUNT];
		follows[SlowLevels.CYA] = true;
		LevelParticleFilter filter = new LevelParticleFilter(record(false, CYA, List.of()), new Weather(ClimateNormals.HOT_DRY),
				count,
				MAY, follows, 3, new LevelParticleFilter.NoiseModel(0, 0, true));
		boolean[] leaking = new boolean[count];
		boolean[] fed = new boolean[count];
		for (int i = 0; i < count; i++) {
			leaking[i] = filter.parameters.leak[i] > 0;
			fed[i] = filter.unrecordedSource.present(i);
		}
		filter.advance(MAY + 70);
		boolean[] leaks = new boolean[count];
		boolean[] feeds = new boolean[count];
		for (int i = 0; i < count; i++) {
			leaks[i] = filter.parameters.leak[i] > 0;
			feeds[i] = filter.unrecordedSource.present(i);
		}
		assertShare(leaking, leaks, false, 0.02);
		assertShare(leaking, leaks, true, 0.02);
		assertShare(fed, feeds, false, 0.05);
		assertShare(fed, feeds, true, 0.05);
	}

	/** Of those that were so before, this share has changed, within four standard errors. */
	private static void assertShare(boolean[] before, boolean[] after, boolean was, double share) {
		int of = 0;
		int changed = 0;
		for (int i = 0; i < before.length; i++) {
			if (before[i] == was) {
				of++;
				changed += (after[i] != was) ? 1 : 0;
			}
		}
		assertThat((double) changed / of).isCloseTo(share, within(4 * Math.sqrt(share / of)));
	}

	/** 0.2 and 0.3 hold half of the weight, 0.9 all of it. */
	@Test
	void weightedQuantilesAreWhereTheWeightIsReached() {
		double[] values = { 9, 1, 5, 3 };
		double[] weight = { 0.4, 0.2, 0.1, 0.3 };
		assertThat(ForecastEnsemble.quantiles(values, weight, 0.1, 0.2, 0.21, 0.5, 0.55, 0.9, 1)).containsExactly(1, 1, 3, 3, 5, 9, 9);
		assertThat(Arrays.toString(values)).as("left as they were").isEqualTo("[9.0, 1.0, 5.0, 3.0]");
	}

}
