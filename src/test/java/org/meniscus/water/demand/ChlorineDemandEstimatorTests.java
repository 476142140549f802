package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.PoolKind.Feed;

/** Against pools whose use is known because the test makes it, hour by hour; no handbook gives a pool's own use. */
class ChlorineDemandEstimatorTests {

	private static final PoolKind YARD = new PoolKind(false, false, 60_000.0, Feed.NONE);

	private static final PoolKind CELL = new PoolKind(false, false, 60_000.0, Feed.CELL);

	private static final double TEST = 0.15;

	@Test
	void withoutVisitsAPoolIsTakenForOneOfItsKind() {
		ChlorineDemand demand = ChlorineDemandEstimator.of(YARD, List.of(), 29, 40);
		assertThat(demand.learnt()).isFalse();
		// about 1 to 2 ppm a day in a stabilized outdoor pool in summer: common practice, no source
		assertThat(demand.use(3).middle()).isBetween(1.0, 1.6);
		assertThat(demand.use(3).high() / demand.use(3).middle()).isBetween(1.5, 2.0);
	}

	/** Half-lives named in {@link PoolKind}: common practice, no source; 138 mg/L: Wojtowicz, see there. */
	@Test
	void stabilizerShadesAsPublished() {
		double bare = -Math.log(0.1) / 2.5;
		assertThat(YARD.firstOrderRate(29, 0)).isCloseTo(5 * bare, within(0.6));
		assertThat(YARD.firstOrderRate(29, 138)).isCloseTo(-Math.log(0.86), within(0.02));
		double decayAt40 = 0.135 * 40 / 50;
		assertThat(YARD.firstOrderRate(29, 40) - decayAt40).isBetween(5 * Math.log(2) / 20, 5 * Math.log(2) / 8.5);
	}

	@Test
	void coldAndShadeAndALidUseLess() {
		double summer = ChlorineDemandEstimator.of(YARD, List.of(), 29, 40).use(3).middle();
		assertThat(ChlorineDemandEstimator.of(YARD, List.of(), 12, 40).use(3).middle()).isLessThan(0.5 * summer);
		assertThat(ChlorineDemandEstimator.of(YARD, List.of(), 29, 80).use(3).middle()).isLessThan(summer);
		assertThat(ChlorineDemandEstimator.of(new PoolKind(false, true, null, Feed.NONE), List.of(), 29, 0).use(3).middle()).isCloseTo(0.5,
				within(0.01));
	}

	@Test
	void learnsAPoolThatUsesTwiceAsMuch() {
		for (double factor : new double[]{ 0.5, 1, 2 }) {
			ChlorineDemand demand = ChlorineDemandEstimator.of(YARD, weeks(factor, 0.15, 20, 5), 29, 40);
			assertThat(demand.intervals()).isEqualTo(20);
			double truth = factor * ChlorineDemandEstimator.of(YARD, List.of(), 29, 40).use(3).middle();
			assertThat(demand.use(3).middle()).isCloseTo(truth, within(0.15 * truth));
			assertThat(demand.logStandardError()).isLessThan(0.15);
			assertThat(demand.logPredictionDeviation()).isBetween(demand.logStandardError(), 0.35);
		}
	}

	@Test
	void aMoreVariablePoolGetsAWiderSpread() {
		double steady = ChlorineDemandEstimator.of(YARD, weeks(1, 0.05, 24, 3), 29, 40).logPredictionDeviation();
		double wild = ChlorineDemandEstimator.of(YARD, weeks(1, 0.5, 24, 3), 29, 40).logPredictionDeviation();
		assertThat(wild).isGreaterThan(1.5 * steady);
	}

	@Test
	void oneGrossErrorHardlyMovesIt() {
		List<DemandInterval> weeks = weeks(1, 0.1, 10, 7);
		double before = ChlorineDemandEstimator.of(YARD, weeks, 29, 40).use(3).middle();
		DemandInterval spoilt = weeks.get(9);
		weeks.set(9, new DemandInterval(spoilt.days(), spoilt.startFc(), spoilt.startDeviation(), 10, 0, 29, 40, false));
		assertThat(ChlorineDemandEstimator.of(YARD, weeks, 29, 40).use(3).middle()).isCloseTo(before, within(0.12 * before));
	}

	/** A cell that holds 2 ppm, and one test that says 12: eleven good weeks weigh more. */
	@Test
	void oneWrongTestHardlyMovesTheLevelACellHolds() {
		double proportional = CELL.firstOrderRate(29, 60);
		double constant = CELL.zeroOrderRate(29);
		List<DemandInterval> weeks = new ArrayList<>();
		for (int n = 0; n < 12; n++) {
			double found = hours(2, proportional, constant, 2 * proportional + constant, 7);
			weeks.add(new DemandInterval(7, 2, TEST, found, 0, 29, 60, false));
		}
		double before = ChlorineDemandEstimator.of(CELL, weeks, 29, 60).expected(2, 7);
		weeks.set(11, new DemandInterval(7, 2, TEST, 12, 0, 29, 60, false));
		assertThat(ChlorineDemandEstimator.of(CELL, weeks, 29, 60).expected(2, 7)).isCloseTo(before, within(0.1 * before));
	}

	/** The same weeks of use, outdoors with a tenth more for the weather to come: 0.1 in quadrature, and nothing of it under a roof. */
	@Test
	void weatherToComeCountsOutdoorsOnly() {
		double outdoors = ChlorineDemandEstimator.of(YARD, List.of(), 29, 40).logPredictionDeviation();
		double indoors = ChlorineDemandEstimator.of(new PoolKind(false, true, 60_000.0, Feed.NONE), List.of(), 29, 0)
			.logPredictionDeviation();
		assertThat(Math.sqrt(outdoors * outdoors - indoors * indoors)).isCloseTo(0.1, within(0.001));
	}

	/** Found empty a week after 4 ppm: anything from the use that just does it upwards. */
	@Test
	void foundEmptyTellsAtLeastSoMuch() {
		double kind = ChlorineDemandEstimator.of(YARD, List.of(), 29, 40).use(3).middle();
		List<DemandInterval> weeks = new ArrayList<>();
		for (int n = 0; n < 6; n++) {
			weeks.add(new DemandInterval(7, 4, TEST, 0, 0, 29, 40, false));
		}
		ChlorineDemand demand = ChlorineDemandEstimator.of(YARD, weeks, 29, 40);
		assertThat(demand.expected(4, 7)).isLessThan(0.3);
		assertThat(demand.use(3).middle()).isGreaterThan(kind);
		// after 6 empty weeks it may be 4 ppm in 2 days or in 6: that is not well known
		assertThat(demand.logStandardError())
			.isGreaterThan(ChlorineDemandEstimator.of(YARD, weeks(1, 0.15, 6, 5), 29, 40).logStandardError());
	}

	@Test
	void anUnusualWeekSaysLittle() {
		List<DemandInterval> weeks = weeks(1, 0.1, 8, 7);
		double before = ChlorineDemandEstimator.of(YARD, weeks, 29, 40).use(3).middle();
		weeks.add(new DemandInterval(7, 8, 0.4, 0.2, 0, 29, 40, true));
		weeks.add(new DemandInterval(7, 8, 0.4, 0.2, 0, 29, 40, true));
		assertThat(ChlorineDemandEstimator.of(YARD, weeks, 29, 40).use(3).middle()).isCloseTo(before, within(0.1 * before));
	}

	/** A cell that holds 2 ppm where its kind is set for 3. */
	@Test
	void learnsTheLevelACellHolds() {
		double proportional = CELL.firstOrderRate(29, 60);
		double constant = CELL.zeroOrderRate(29);
		Random random = new Random(2);
		List<DemandInterval> weeks = new ArrayList<>();
		for (int n = 0; n < 12; n++) {
			double found = hours(2, proportional, constant, 2 * proportional + constant, 7);
			weeks.add(new DemandInterval(7, 2, TEST, Math.max(0, found + TEST * random.nextGaussian()), 0, 29, 60, false));
		}
		ChlorineDemand demand = ChlorineDemandEstimator.of(CELL, weeks, 29, 60);
		assertThat(demand.expected(2, 7)).isCloseTo(2, within(0.2));
		assertThat(demand.exceededQuantile(2, TEST, 7, 0.9)).isBetween(1.0, 1.9);
	}

	@Test
	void recordedTabletsAreSupply() {
		PoolKind feeder = new PoolKind(false, false, 60_000.0, Feed.TABLETS);
		double proportional = feeder.firstOrderRate(29, 40);
		double constant = feeder.zeroOrderRate(29);
		List<DemandInterval> weeks = new ArrayList<>();
		for (int n = 0; n < 10; n++) {
			weeks.add(new DemandInterval(7, 3, TEST, hours(3, proportional, constant, 1.1, 7), 7.7, 29, 40, false));
		}
		ChlorineDemand demand = ChlorineDemandEstimator.of(feeder, weeks, 29, 40);
		assertThat(demand.supply()).isCloseTo(1.1, within(1e-9));
		assertThat(demand.use(3).middle()).isCloseTo(3 * proportional + constant, within(0.1));
	}

	private static List<DemandInterval> weeks(double factor, double weekly, int count, long seed) {
		Random random = new Random(seed);
		double proportional = YARD.firstOrderRate(29, 40);
		double constant = YARD.zeroOrderRate(29);
		List<DemandInterval> weeks = new ArrayList<>();
		double fc = 2;
		for (int n = 0; n < count; n++) {
			double start = Math.max(fc, 8);
			double scale = factor * Math.exp(weekly * random.nextGaussian());
			int days = (factor > 1) ? 2 : 4;
			fc = hours(start, scale * proportional, scale * constant, 0, days);
			weeks.add(new DemandInterval(days, start, 0.4, Math.max(0, fc + TEST * random.nextGaussian()), 0, 29, 40, false));
		}
		return weeks;
	}

	/** Hour by hour, apart from the closed form of {@link ChlorineDemand}. */
	private static double hours(double start, double proportional, double constant, double supply, int days) {
		double fc = start;
		for (int hour = 0; hour < 240 * days; hour++) {
			fc = Math.max(0, fc + (supply - proportional * fc - constant) / 240);
		}
		return fc;
	}

}
