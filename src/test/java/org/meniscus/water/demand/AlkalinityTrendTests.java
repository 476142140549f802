package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.demand.AlkalinityTrend.Change;
import org.meniscus.water.demand.AlkalinityTrend.Drift;
import org.meniscus.water.demand.AlkalinityTrend.Exit;
import org.meniscus.water.demand.AlkalinityTrend.Reading;
import org.meniscus.water.pool.Range;
import org.meniscus.water.units.Band;

/** Series with a known truth; days count from the season's start. */
class AlkalinityTrendTests {

	private static final Range RANGE = new Range(60, 80, 120, 180, "made up");

	private static AlkalinityTrend trend(long today, List<Reading> readings, Change... changes) {
		return AlkalinityTrend.of(readings, List.of(changes), today).orElseThrow();
	}

	private static Drift drift(AlkalinityTrend trend) {
		return Objects.requireNonNull(trend.drift());
	}

	/** Weekly acid of 3 ppm and nothing else: 120 ppm at the start, read every week before dosing. */
	@Test
	void recordedDosesExplainTheWholeFall() {
		List<Reading> readings = new ArrayList<>();
		List<Change> acid = new ArrayList<>();
		for (int week = 0; week <= 10; week++) {
			readings.add(new Reading(7 * week, 120 - 3 * week));
			acid.add(Change.dose(7 * week, "acid", -3));
		}
		AlkalinityTrend trend = trend(70, readings, acid.toArray(Change[]::new));
		assertThat(drift(trend).byProduct()).containsOnlyKeys("acid");
		// eight doses in the last eight weeks, today's not yet among them
		assertThat(drift(trend).byProduct().get("acid")).isCloseTo(-3, within(1e-9));
		assertThat(drift(trend).unrecorded().middle()).isCloseTo(0, within(1e-9));
		assertThat(trend.today().middle()).as("today's acid has gone in").isCloseTo(87, within(1e-9));
	}

	/** 2 ppm a week that nobody wrote down on top of 1 ppm a week on record: 60 is reached from 75 in five weeks. */
	@Test
	void unrecordedFallIsToldApartAndTheDayOfLeavingFollows() {
		List<Reading> readings = new ArrayList<>();
		List<Change> acid = new ArrayList<>();
		for (int week = 0; week <= 15; week++) {
			readings.add(new Reading(7 * week, 120 - 3 * week));
			if (week < 15) {
				acid.add(Change.dose(7 * week, "acid", -1));
			}
		}
		AlkalinityTrend trend = trend(105, readings, acid.toArray(Change[]::new));
		assertThat(drift(trend).byProduct().get("acid")).isCloseTo(-1, within(1e-9));
		assertThat(drift(trend).unrecorded().middle()).isCloseTo(-2, within(1e-9));
		assertThat(trend.today().middle()).isCloseTo(75, within(1e-9));
		Exit exit = trend.exit(RANGE, 105, 182).orElseThrow();
		assertThat(exit.day()).isEqualTo(140);
		assertThat(exit.limit()).isEqualTo(60);
		assertThat(exit.rising()).isFalse();
		assertThat(exit.earliest()).isLessThan(140);
		assertThat(Objects.requireNonNull(exit.latest())).isGreaterThan(140);
		assertThat(trend.exit(RANGE, 105, 34)).as("not within 34 days").isEmpty();
		assertThat(trend.weeksToLeaveIdeal(new Range(40, 60, 120, 180, "made up")).orElseThrow()).isCloseTo(5, within(1e-9));
	}

	/**
	 * By hand: 80 ppm, rising 0.2 a day. Day 50: 90, half of it replaced with water of 0: 45. Day 80: 51. The line must see one rate of 0.2
	 * through the drain.
	 */
	@Test
	void waterReplacementScalesTheLevelAndNotTheRate() {
		List<Reading> readings = new ArrayList<>();
		for (int day = 0; day <= 50; day += 10) {
			readings.add(new Reading(day, 80 + 0.2 * day));
		}
		for (int day = 60; day <= 80; day += 10) {
			readings.add(new Reading(day, 45 + 0.2 * (day - 50)));
		}
		AlkalinityTrend trend = trend(80, readings, Change.replacement(50, 0.5, 0));
		assertThat(drift(trend).unrecorded().middle()).isCloseTo(1.4, within(1e-9));
		assertThat(trend.today().middle()).isCloseTo(51, within(1e-9));
		assertThat(trend.course().stream().filter(point -> point.day() == 50).map(point -> Math.round(1e6 * point.band().middle()) / 1e6))
			.containsExactly(90.0, 45.0);
	}

	/** Fill water brings its own level: 100 with a quarter replaced by 40 is 85. */
	@Test
	void fillWaterBringsItsOwnLevel() {
		AlkalinityTrend trend = trend(10, List.of(new Reading(0, 100), new Reading(1, 100)), Change.replacement(5, 0.25, 40));
		assertThat(trend.today().middle()).isCloseTo(85, within(1e-9));
	}

	@Test
	void nothingIsKnownWithoutReadingOfThePresentWater() {
		List<Reading> readings = List.of(new Reading(0, 120), new Reading(7, 120));
		assertThat(AlkalinityTrend.of(readings, List.of(Change.replacement(10, 1, 80)), 20)).isEmpty();
		assertThat(AlkalinityTrend.of(readings, List.of(), 7 + 183)).as("older than half a year").isEmpty();
		assertThat(AlkalinityTrend.of(List.of(new Reading(11, 120)), List.of(), 10)).as("only later").isEmpty();
	}

	@Test
	void fewReadingsGiveALevelButNoDrift() {
		AlkalinityTrend trend = trend(35, List.of(new Reading(0, 95), new Reading(14, 105), new Reading(35, 100)));
		assertThat(trend.today().middle()).isEqualTo(100);
		assertThat(trend.drift()).isNull();
		assertThat(trend.readings()).isEqualTo(3);
		assertThat(trend.exit(RANGE, 35, 182)).isEmpty();
		List<Reading> close = List.of(new Reading(0, 95), new Reading(7, 105), new Reading(14, 100), new Reading(27, 100));
		assertThat(trend(27, close).drift()).as("less than four weeks").isNull();
	}

	/**
	 * Before a drift is known the band widens with the time since the reading. By hand: the reading's variance is
	 * 3.5² + 6² + 10²/12 + 3² = 65.583, its deviation 8.098; 60 days at 2 % of 100 a week add 17.143; together 18.960, times 1.2816.
	 */
	@Test
	void bandWidensWithTheAgeOfTheReadings() {
		Band fresh = trend(0, List.of(new Reading(0, 100))).today();
		Band old = trend(60, List.of(new Reading(0, 100))).today();
		assertThat(fresh.high() - fresh.middle()).isCloseTo(10.378, within(0.001));
		assertThat(old.high() - old.middle()).isCloseTo(24.298, within(0.001));
	}

	/** 2 ppm a week of acid on record: the way is known once what is not on record is surely above 2 or surely below it. */
	@Test
	void wayIsKnownOnceTheBandLeavesZeroOut() {
		assertThat(new Drift(Map.of("acid", -2.0), new Band(2.1, 3, 4)).signKnown()).isTrue();
		assertThat(new Drift(Map.of("acid", -2.0), new Band(-1, 1, 1.9)).signKnown()).isTrue();
		assertThat(new Drift(Map.of("acid", -2.0), new Band(2, 3, 4)).signKnown()).as("it may stand still").isFalse();
		assertThat(new Drift(Map.of("acid", -2.0), new Band(0, 1, 2)).signKnown()).as("it may stand still").isFalse();
		assertThat(new Drift(Map.of("acid", -2.0), new Band(1, 2, 3)).signKnown()).isFalse();
		assertThat(new Drift(Map.of("acid", -2.0, "bicarbonate", 5.0), new Band(1, 2, 3)).perWeek()).isCloseTo(5, within(1e-12));
	}

	private static AlkalinityTrend at(Band today, Band unrecorded) {
		return new AlkalinityTrend(today, new Drift(Map.of(), unrecorded), 8, List.of());
	}

	/**
	 * By hand: 75 ± 5 falls by 3 ± 1 a week to 60. In the middle 15 / 3 = 5 weeks. After d days it is 3 d / 7 lower, give or take the root of
	 * 5² + (d / 7)²: 15 ppm are within that from day 22 on (9.43 + 5.91; 9 + 5.83 a day before), surely passed on day 58 (24.86 - 9.68;
	 * 24.43 - 9.56).
	 */
	@Test
	void daysOfLeavingFollowFromLevelAndDriftTogether() {
		AlkalinityTrend trend = at(new Band(70, 75, 80), new Band(-4, -3, -2));
		assertThat(trend.exit(RANGE, 1000, 182)).contains(new Exit(1035, 1022, 1058L, 60, false));
		assertThat(trend.exit(RANGE, 1000, 57)).contains(new Exit(1035, 1022, null, 60, false));
		assertThat(trend.exit(RANGE, 1000, 35)).as("just within").isPresent();
		assertThat(trend.exit(RANGE, 1000, 34)).isEmpty();
		AlkalinityTrend mirrored = at(new Band(160, 165, 170), new Band(2, 3, 4));
		assertThat(mirrored.exit(RANGE, 1000, 182)).contains(new Exit(1035, 1022, 1058L, 180, true));
		assertThat(trend.weeksToLeaveIdeal(new Range(40, 66, 120, 180, "made up")).orElseThrow()).isCloseTo(3, within(1e-9));
		assertThat(mirrored.weeksToLeaveIdeal(new Range(40, 66, 174, 180, "made up")).orElseThrow()).isCloseTo(3, within(1e-9));
	}

	@Test
	void leftAlreadyIsLeftToday() {
		Exit exit = at(new Band(54, 55, 56), new Band(-4, -3, -2)).exit(RANGE, 1000, 182).orElseThrow();
		assertThat(exit).isEqualTo(new Exit(1000, 1000, 1000L, 60, false));
	}

	@Test
	void aRangeThatBeginsAtNothingIsNotLeftBelow() {
		AlkalinityTrend trend = at(new Band(9, 10, 11), new Band(-4, -3, -2));
		assertThat(trend.exit(new Range(0, 80, 120, 180, "made up"), 1000, 182)).isEmpty();
		assertThat(at(new Band(9, 10, 11), new Band(-4, 0, 4)).exit(RANGE, 1000, 182)).as("which way?").isEmpty();
		assertThat(at(new Band(9, 10, 11), new Band(-4, 0, 4)).weeksToLeaveIdeal(RANGE)).isEmpty();
	}

	/** The same readings and records in any order give the same answer, to the last bit. */
	@ParameterizedTest
	@ValueSource(longs = { 1, 2, 3, 4, 5, 6 })
	void orderOfReadingsAndChangesDoesNotMatter(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 50; round++) {
			Season season = Season.random(random);
			AlkalinityTrend straight = AlkalinityTrend.of(season.readings, season.changes, season.last).orElseThrow();
			Collections.shuffle(season.readings, random);
			Collections.shuffle(season.changes, random);
			assertThat(AlkalinityTrend.of(season.readings, season.changes, season.last)).contains(straight);
		}
	}

	@ParameterizedTest
	@ValueSource(longs = { 21, 22, 23 })
	void laterReadingsAndChangesAreNotUsed(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 50; round++) {
			Season season = Season.random(random);
			long today = season.last / 2;
			AlkalinityTrend past = AlkalinityTrend
				.of(season.readings.stream().filter(reading -> reading.day() <= today).toList(),
						season.changes.stream().filter(change -> change.day() <= today).toList(), today)
				.orElseThrow();
			assertThat(AlkalinityTrend.of(season.readings, season.changes, today)).contains(past);
		}
	}

	/** One gross error in a dozen, however gross, moves neither level nor rate by more than the clean readings scatter. */
	@ParameterizedTest
	@ValueSource(longs = { 31, 32, 33, 34 })
	void oneGrossErrorHardlyMovesLevelAndDrift(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 50; round++) {
			List<Reading> clean = new ArrayList<>();
			for (int week = 0; week < 12; week++) {
				clean.add(new Reading(7 * week, 80 + 1.5 * week + random.nextDouble() * 4 - 2));
			}
			List<Reading> spoilt = new ArrayList<>(clean);
			int at = random.nextInt(12);
			spoilt.set(at, new Reading(7 * at, 10 * clean.get(at).ppm()));
			AlkalinityTrend before = trend(77, clean);
			AlkalinityTrend after = trend(77, spoilt);
			assertThat(after.today().middle()).isCloseTo(before.today().middle(), within(4.0));
			assertThat(drift(after).unrecorded().middle()).isCloseTo(drift(before).unrecorded().middle(), within(0.8));
		}
	}

	/**
	 * Over many noisy seasons of known truth the bands must hold about as often as they say, and the middle be unbiased. The drift to come
	 * differs from that so far by 0.7 % of the level a week, as the trend takes it.
	 */
	@Test
	void bandsHoldAboutFourTimesInFive() {
		Random random = new Random(7);
		int levelHeld = 0;
		int rateHeld = 0;
		double bias = 0;
		int seasons = 2000;
		for (int season = 0; season < seasons; season++) {
			double rate = random.nextGaussian();
			double start = 100 + 10 * random.nextGaussian();
			List<Reading> readings = new ArrayList<>();
			for (int week = 0; week < 14; week++) {
				double truth = start + rate * week;
				readings.add(new Reading(7 * week, truth + (5 + 0.03 * truth) * random.nextGaussian()));
			}
			AlkalinityTrend trend = trend(91, readings);
			double truth = start + rate * 13;
			levelHeld += (trend.today().low() <= truth && truth <= trend.today().high()) ? 1 : 0;
			double toCome = rate + 0.007 * truth * random.nextGaussian();
			rateHeld += (drift(trend).unrecorded().low() <= toCome && toCome <= drift(trend).unrecorded().high()) ? 1 : 0;
			bias += (trend.today().middle() - truth) / seasons;
		}
		assertThat(levelHeld / (double) seasons).isBetween(0.75, 0.95);
		assertThat(rateHeld / (double) seasons).isBetween(0.75, 0.95);
		assertThat(bias).isCloseTo(0, within(0.5));
	}

	/** Readings and changes as they come, replacements among them. */
	private record Season(List<Reading> readings, List<Change> changes, long last) {

		static Season random(Random random) {
			List<Reading> readings = new ArrayList<>();
			List<Change> changes = new ArrayList<>();
			long day = 0;
			for (int visit = 0; visit < 20; visit++) {
				if (visit == 0 || random.nextInt(3) > 0) {
					readings.add(new Reading(day, 50 + 10 * random.nextInt(13)));
				}
				changes.add(Change.dose(day, "acid", -3 * random.nextDouble()));
				if (random.nextInt(4) == 0) {
					changes.add(Change.dose(day, "bicarbonate", 10 * random.nextDouble()));
				}
				if (random.nextInt(10) == 0) {
					changes.add(Change.replacement(day, 0.1 + 0.5 * random.nextDouble(), 80));
				}
				day += 4 + random.nextInt(7);
			}
			return new Season(readings, changes, day);
		}

	}

}
