package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.drift.SeasonEstimate.Drift;
import org.meniscus.water.drift.SeasonEstimate.Exit;
import org.meniscus.water.drift.SeasonEstimate.State;
import org.meniscus.water.drift.SeasonEstimate.Today;
import org.meniscus.water.drift.SeasonQuestion.Persistence;
import org.meniscus.water.pool.Range;

/** Series with a known truth; days count from the season's start. */
class RobustTrendTests {

	private static final String SOURCE = "common practice, no source";

	/** CYA of a residential outdoor pool. */
	private static final Range CYA = new Range(0, 30, 50, 100, SOURCE);

	private static final TestError KIT = new TestError(4, 0.09);

	private final SeasonEstimator trend = new RobustTrend();

	private SeasonEstimate ask(long today, List<Observation> observations, List<KnownInput> inputs) {
		return trend.estimate(new SeasonQuestion(today, today + 182, observations, inputs, CYA, KIT, Persistence.LASTING));
	}

	private static Today.Level level(SeasonEstimate estimate) {
		assertThat(estimate.today()).isInstanceOf(Today.Level.class);
		return (Today.Level) estimate.today();
	}

	private static Drift drift(SeasonEstimate estimate) {
		return Objects.requireNonNull(estimate.drift());
	}

	/** Weekly tablets of 2 ppm, nothing else: 40 ppm at the start, read every week before dosing. */
	@Test
	void recordedDosesExplainTheWholeRise() {
		List<Observation> observations = new ArrayList<>();
		List<KnownInput> inputs = new ArrayList<>();
		for (int week = 0; week <= 10; week++) {
			observations.add(Observation.measured(7 * week, 40 + 2 * week));
			inputs.add(new KnownInput.Added(7 * week, "TRICHLOR", 2, 7));
		}
		SeasonEstimate estimate = ask(70, observations, inputs);
		assertThat(drift(estimate).recorded()).isCloseTo(2, within(1e-9));
		assertThat(drift(estimate).bySource()).containsOnlyKeys("TRICHLOR");
		assertThat(drift(estimate).other()).isCloseTo(0, within(1e-9));
		// one of the seven parts of today's tablet has gone in by this evening
		assertThat(level(estimate).middle()).isCloseTo(60 + 2 / 7.0, within(1e-9));
	}

	/** 20 ppm of stabilizer put in on day 49 because the level had fallen: it is there, and it will not come again. */
	@Test
	void aCorrectionMovesTheLevelButIsNotPresumedToGoOn() {
		List<Observation> observations = new ArrayList<>();
		for (int week = 0; week <= 10; week++) {
			observations.add(Observation.measured(7 * week, 40 - week + ((week > 7) ? 20 : 0)));
		}
		SeasonEstimate estimate = ask(70, observations, List.of(new KnownInput.Added(49, "CYA", 20, 0, true)));
		assertThat(level(estimate).middle()).isCloseTo(50, within(1e-9));
		assertThat(drift(estimate).perWeek()).isCloseTo(-1, within(1e-9));
		assertThat(drift(estimate).bySource()).isEmpty();
	}

	/** 1.4 ppm a week from nowhere on top of 1 ppm a week on record: 100 is reached from 88 in five weeks. */
	@Test
	void unrecordedRiseIsToldApartAndTheDayOfLeavingFollows() {
		List<Observation> observations = new ArrayList<>();
		List<KnownInput> inputs = new ArrayList<>();
		for (int week = 0; week <= 20; week++) {
			observations.add(Observation.measured(7 * week, 40 + 2.4 * week));
			if (week < 20) {
				inputs.add(new KnownInput.Added(7 * week, "DICHLOR", 1));
			}
		}
		SeasonEstimate estimate = ask(140, observations, inputs);
		assertThat(drift(estimate).recorded()).isCloseTo(1, within(1e-9));
		assertThat(drift(estimate).other()).isCloseTo(1.4, within(1e-9));
		assertThat(level(estimate).middle()).isCloseTo(88, within(1e-9));
		Exit exit = Objects.requireNonNull(estimate.exit());
		assertThat(exit.day()).isEqualTo(175);
		assertThat(exit.limit()).isEqualTo(100);
		assertThat(exit.rising()).isTrue();
		assertThat(exit.earliest()).isLessThan(175);
		assertThat(Objects.requireNonNull(exit.latest())).isGreaterThan(175);
		assertThat(estimate.state()).isEqualTo(State.DRIFTING);
		assertThat(estimate.reason().code()).isEqualTo(TrendReason.Code.RISING_PAST_MAXIMUM);
		assertThat(estimate.reason().figures()).containsExactly(5.0, 100.0);
	}

	/**
	 * By hand: 80 ppm, rising 0.2 a day. Day 50: 90, half of it replaced with water that has none: 45. Day 80: 51. The line must
	 * see one rate of 0.2 through the drain.
	 */
	@Test
	void drainScalesTheLevelAndNotTheRate() {
		List<Observation> observations = new ArrayList<>();
		for (int day = 0; day <= 50; day += 10) {
			observations.add(Observation.measured(day, 80 + 0.2 * day));
		}
		for (int day = 60; day <= 80; day += 10) {
			observations.add(Observation.measured(day, 45 + 0.2 * (day - 50)));
		}
		SeasonEstimate estimate = ask(80, observations, List.of(new KnownInput.WaterReplaced(50, 0.5, 0)));
		assertThat(drift(estimate).other()).isCloseTo(1.4, within(1e-9));
		assertThat(level(estimate).middle()).isCloseTo(51, within(1e-9));
		assertThat(estimate.course()).contains(new SeasonEstimate.Point(50, 90)).anySatisfy(point -> {
			assertThat(point.day()).isEqualTo(50);
			assertThat(point.level()).isCloseTo(45, within(1e-9));
		});
	}

	/** Fill water brings its own hardness: 400 with a quarter replaced by 200 is 350. */
	@Test
	void fillWaterBringsItsOwnLevel() {
		List<Observation> observations = List.of(Observation.measured(0, 400), Observation.measured(1, 400));
		SeasonEstimate estimate = trend.estimate(new SeasonQuestion(10, 100, observations,
				List.of(new KnownInput.WaterReplaced(5, 0.25, 200)), new Range(150, 200, 400, 1000, SOURCE), new TestError(6, 0.035),
				Persistence.LASTING));
		assertThat(level(estimate).middle()).isCloseTo(350, within(1e-9));
	}

	@Test
	void fullReplacementForgetsWhatWasReadBefore() {
		List<Observation> observations = List.of(Observation.measured(0, 120), Observation.measured(7, 120));
		SeasonEstimate estimate = ask(20, observations, List.of(new KnownInput.WaterReplaced(10, 1, 0)));
		assertThat(estimate.state()).isEqualTo(State.UNKNOWN);
		assertThat(estimate.reason().code()).isEqualTo(TrendReason.Code.WATER_REPLACED);
		assertThat(estimate.today()).isEqualTo(new Today.Unknown());
	}

	@Test
	void fewReadingsGiveALevelButNoDrift() {
		SeasonEstimate estimate = ask(35, List.of(Observation.measured(0, 35), Observation.measured(14, 45),
				Observation.measured(35, 40)), List.of());
		assertThat(level(estimate).middle()).isEqualTo(40);
		assertThat(estimate.drift()).isNull();
		assertThat(estimate.exit()).isNull();
		assertThat(estimate.state()).isEqualTo(State.IN_RANGE);
		assertThat(estimate.remark(TrendReason.Code.TOO_FEW_READINGS)).hasValueSatisfying(
				remark -> assertThat(remark.figures()).containsExactly(3.0, (double) RobustTrend.READINGS_FOR_A_DRIFT));
	}

	/**
	 * Before a drift can be told the band widens with the time since the reading. By hand: the reading's deviation is 4 + 0.09 ×
	 * 40 = 7.6; 60 days at 2 % of 40 a week add 6.857; together 10.236, times 1.2816.
	 */
	@Test
	void bandWidensWithTheAgeOfTheReadings() {
		List<Observation> observations = List.of(Observation.measured(0, 40));
		Today.Level fresh = level(ask(0, observations, List.of()));
		Today.Level old = level(ask(60, observations, List.of()));
		assertThat(fresh.high() - fresh.middle()).isCloseTo(9.740, within(0.001));
		assertThat(old.high() - old.middle()).isCloseTo(13.118, within(0.001));
		assertThat(ask(60, observations, List.of()).remark(TrendReason.Code.STALE)).isPresent();
	}

	@Test
	void nothingReadIsUnknown() {
		assertThat(ask(10, List.of(), List.of()).reason().code()).isEqualTo(TrendReason.Code.NOT_MEASURED);
		assertThat(ask(10, List.of(Observation.measured(11, 50)), List.of()).state()).isEqualTo(State.UNKNOWN);
	}

	@Test
	void onlyReadingsAboveTheScaleAreABoundAndOutOfRange() {
		SeasonEstimate estimate = ask(30, List.of(Observation.above(0, 100), Observation.above(10, 100),
				Observation.above(20, 100), Observation.above(30, 100)), List.of());
		assertThat(estimate.today()).isEqualTo(new Today.Above(100));
		assertThat(estimate.state()).isEqualTo(State.OUT_OF_RANGE);
		assertThat(estimate.reason()).isEqualTo(TrendReason.of(TrendReason.Code.ABOVE_SCALE, 100));
		assertThat(estimate.drift()).isNull();
	}

	@Test
	void onlyReadingsBelowTheScaleAreABound() {
		SeasonEstimate estimate = ask(30, List.of(Observation.below(0, 30), Observation.below(30, 30)), List.of());
		assertThat(estimate.today()).isEqualTo(new Today.Below(30));
		assertThat(estimate.state()).isEqualTo(State.DRIFTING);
	}

	@Test
	void stateFollowsTheRanges() {
		assertThat(ask(0, List.of(Observation.measured(0, 110)), List.of()).reason())
			.isEqualTo(TrendReason.of(TrendReason.Code.ABOVE_MAXIMUM, 110, 100));
		assertThat(ask(0, List.of(Observation.measured(0, 60)), List.of()).reason())
			.isEqualTo(TrendReason.of(TrendReason.Code.ABOVE_IDEAL, 60, 50));
		assertThat(ask(0, List.of(Observation.measured(0, 20)), List.of()).reason())
			.isEqualTo(TrendReason.of(TrendReason.Code.BELOW_IDEAL, 20, 30));
		assertThat(ask(0, List.of(Observation.measured(0, 40)), List.of()).state()).isEqualTo(State.IN_RANGE);
		Range hardness = new Range(150, 200, 400, 1000, SOURCE);
		SeasonEstimate soft = trend.estimate(new SeasonQuestion(0, 182, List.of(Observation.measured(0, 140)), List.of(),
				hardness, new TestError(6, 0.035), Persistence.LASTING));
		assertThat(soft.reason()).isEqualTo(TrendReason.of(TrendReason.Code.BELOW_MINIMUM, 140, 150));
		assertThat(soft.state()).isEqualTo(State.OUT_OF_RANGE);
	}

	/** A passing level is what was found last; its inputs are used up and there is no forecast. */
	@Test
	void passingLevelIsTheNewestReading() {
		List<Observation> observations = new ArrayList<>();
		for (int week = 0; week <= 8; week++) {
			observations.add(Observation.measured(7 * week, (week == 8) ? 0.5 : 3));
		}
		SeasonEstimate estimate = trend.estimate(new SeasonQuestion(58, 182, observations,
				List.of(new KnownInput.Added(50, "LIQUID_CHLORINE", 4)), new Range(1, 2, 4, 10, SOURCE), new TestError(0.2, 0.05),
				Persistence.PASSING));
		assertThat(level(estimate).middle()).isEqualTo(0.5);
		assertThat(estimate.state()).isEqualTo(State.OUT_OF_RANGE);
		assertThat(estimate.exit()).isNull();
	}

	/** Chlorine that was a little higher at each visit says nothing about the weeks to come. */
	@Test
	void passingLevelIsNotSaidToPassItsIdeal() {
		List<Observation> observations = new ArrayList<>();
		for (int week = 0; week <= 8; week++) {
			observations.add(Observation.measured(7 * week, 2 + 0.2 * week));
		}
		SeasonEstimate estimate = trend.estimate(new SeasonQuestion(58, 182, observations, List.of(), new Range(1, 2, 4, 10, SOURCE),
				new TestError(0.2, 0.05), Persistence.PASSING));
		assertThat(estimate.state()).isEqualTo(State.IN_RANGE);
		assertThat(estimate.reason()).isEqualTo(TrendReason.of(TrendReason.Code.STEADY, 3.6));
	}

	/** The same readings and records in any order give the same answer, to the last bit. */
	@ParameterizedTest
	@ValueSource(longs = { 1, 2, 3, 4, 5, 6 })
	void orderDoesNotMatter(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 50; round++) {
			Season season = Season.random(random);
			SeasonEstimate straight = ask(season.last, season.observations, season.inputs);
			Collections.shuffle(season.observations, random);
			Collections.shuffle(season.inputs, random);
			assertThat(ask(season.last, season.observations, season.inputs)).isEqualTo(straight);
		}
	}

	/** What comes after today is not used. */
	@ParameterizedTest
	@ValueSource(longs = { 21, 22, 23 })
	void theFutureIsNotUsed(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 50; round++) {
			Season season = Season.random(random);
			long today = season.last / 2;
			List<Observation> past = season.observations.stream().filter(seen -> seen.day() <= today).toList();
			List<KnownInput> known = season.inputs.stream().filter(input -> input.day() <= today).toList();
			SeasonEstimate blind = ask(today, past, known);
			SeasonEstimate told = ask(today, season.observations, season.inputs);
			assertThat(told.today()).isEqualTo(blind.today());
			assertThat(told.drift()).isEqualTo(blind.drift());
			assertThat(told.exit()).isEqualTo(blind.exit());
		}
	}

	/** One gross error in a dozen, however gross, moves neither level nor rate by more than the clean readings scatter. */
	@ParameterizedTest
	@ValueSource(longs = { 31, 32, 33, 34 })
	void oneGrossErrorDoesNotCarryTheDay(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 50; round++) {
			List<Observation> clean = new ArrayList<>();
			for (int week = 0; week < 12; week++) {
				clean.add(Observation.measured(7 * week, 50 + 1.5 * week + random.nextDouble() * 4 - 2));
			}
			List<Observation> spoilt = new ArrayList<>(clean);
			int at = random.nextInt(12);
			spoilt.set(at, Observation.measured(7 * at, 10 * clean.get(at).value()));
			SeasonEstimate before = ask(77, clean, List.of());
			SeasonEstimate after = ask(77, spoilt, List.of());
			assertThat(level(after).middle()).isCloseTo(level(before).middle(), within(4.0));
			assertThat(drift(after).other()).isCloseTo(drift(before).other(), within(0.8));
		}
	}

	/** Over many noisy seasons of known truth the bands must hold about as often as they say, and the middle be unbiased. */
	@Test
	void bandsHoldAboutFourTimesInFive() {
		Random random = new Random(7);
		int levelHeld = 0;
		int rateHeld = 0;
		double bias = 0;
		int seasons = 2000;
		for (int season = 0; season < seasons; season++) {
			double rate = random.nextGaussian();
			double start = 50 + 10 * random.nextGaussian();
			List<Observation> observations = new ArrayList<>();
			for (int week = 0; week < 14; week++) {
				double truth = start + rate * week;
				observations.add(Observation.measured(7 * week, Math.max(0, truth + (4 + 0.09 * truth) * random.nextGaussian())));
			}
			SeasonEstimate estimate = ask(91, observations, List.of());
			double truth = start + rate * 13;
			if (level(estimate).low() <= truth && truth <= level(estimate).high()) {
				levelHeld++;
			}
			if (drift(estimate).otherLow() <= rate && rate <= drift(estimate).otherHigh()) {
				rateHeld++;
			}
			bias += (level(estimate).middle() - truth) / seasons;
		}
		assertThat(levelHeld / (double) seasons).isBetween(0.75, 0.95);
		assertThat(rateHeld / (double) seasons).isBetween(0.75, 0.95);
		assertThat(bias).isCloseTo(0, within(0.5));
	}

	/** Readings and inputs as they come, marks and drains among them. */
	private record Season(List<Observation> observations, List<KnownInput> inputs, long last) {

		static Season random(Random random) {
			List<Observation> observations = new ArrayList<>();
			List<KnownInput> inputs = new ArrayList<>();
			long day = 0;
			for (int visit = 0; visit < 20; visit++) {
				double read = 10 * random.nextInt(13);
				if (random.nextInt(3) > 0) {
					observations.add((read < 30) ? Observation.below(day, 30)
							: (read > 100) ? Observation.above(day, 100) : Observation.measured(day, read));
				}
				inputs.add(new KnownInput.Added(day, "A", random.nextDouble() * 3, random.nextInt(8)));
				if (random.nextInt(4) == 0) {
					inputs.add(new KnownInput.Added(day, "B", random.nextDouble()));
				}
				if (random.nextInt(10) == 0) {
					inputs.add(new KnownInput.WaterReplaced(day, 0.1 + 0.5 * random.nextDouble(), 5));
				}
				day += 4 + random.nextInt(7);
			}
			return new Season(observations, inputs, day);
		}

	}

}
