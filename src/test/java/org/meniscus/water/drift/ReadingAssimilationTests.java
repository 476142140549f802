package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.XorShiftRandom;

/** Bayes' theorem for one reading, by closed forms and by numerical integration. Levels are CYA, a test is off by 6 ppm. */
class ReadingAssimilationTests {

	private static final double TEST = 6;

	private final double[] weight = { 0.5, 0.5 };

	private final JointNormalParticles state = new JointNormalParticles(2, new int[]{ SlowLevels.CYA });

	private final int level = state.level(SlowLevels.CYA);

	private final int start = state.start(SlowLevels.CYA);

	private final int bias = state.add();

	private void levels(double first, double second, double deviation) {
		state.set(level, 0, first, deviation * deviation);
		state.set(level, 1, second, deviation * deviation);
		state.startHere(SlowLevels.CYA, 0);
		state.startHere(SlowLevels.CYA, 1);
	}

	private ReadingAssimilation assimilate(ReadingQualifier qualifier, double value, double outlierShare, long seed) {
		return assimilate(new Reading(value, qualifier, new TestPrecision(0, TEST, 0, 0)), outlierShare, seed);
	}

	private ReadingAssimilation assimilate(Reading reading, double outlierShare, long seed) {
		ReadingAssimilation assimilation = new ReadingAssimilation(state, level, bias, reading, null);
		assimilation.update(weight, outlierShare, new XorShiftRandom(seed));
		return assimilation;
	}

	/** Precisions add up: a technician who reads a tenth too high shows the level with f = 1.1. */
	@Test
	void exactReadingsAreWeighedByTheirPrecisionAndCorrectedForTheBias() {
		levels(50, 50, 8);
		state.set(bias, 0, Math.log(1.1), 0);
		state.set(bias, 1, Math.log(1.1), 0);
		assimilate(ReadingQualifier.EXACT, 66, 0, 1);
		double precision = 1 / 64.0 + 1.1 * 1.1 / (TEST * TEST);
		double variance = state.variance(level, 0);
		assertThat(state.mean(level, 0)).isCloseTo((50 / 64.0 + 1.1 * 66 / (TEST * TEST)) / precision, within(1e-9));
		assertThat(variance).isCloseTo(1 / precision, within(1e-9));
		assertThat(state.mean(start, 0)).as("nothing happened since the start").isCloseTo(state.mean(level, 0), within(1e-9));
		assertThat(state.variance(start, 0)).isCloseTo(variance, within(1e-9));
		assertThat(state.covariance(level, start, 0)).isCloseTo(variance, within(1e-9));
		assertThat(weight).containsExactly(0.5, 0.5);
	}

	/** Of 11 read over 50 expected each of level and bias explains as much as its share of 8² + (50 × 0.1)² + 6². */
	@Test
	void readingIsSharedOutBetweenLevelAndBiasByTheirVariances() {
		levels(50, 50, 8);
		state.set(bias, 0, 0, 0.01);
		state.set(bias, 1, 0, 0.01);
		assimilate(ReadingQualifier.EXACT, 61, 0, 1);
		double variance = 64 + 25 + 36;
		assertThat(state.mean(level, 1)).isCloseTo(50 + 11 * 64 / variance, within(1e-9));
		assertThat(state.mean(bias, 1)).isCloseTo(11 * 50 * 0.01 / variance, within(1e-9));
		assertThat(state.covariance(level, bias, 1)).isCloseTo(-64 * 50 * 0.01 / variance, within(1e-9));
	}

	/** Mean and variance of the level given that a test of it stood beyond the mark, by the midpoint rule. */
	@ParameterizedTest
	@CsvSource({ "BELOW, 30, 40, 12", "BELOW, 30, 20, 12", "BELOW, 30, 70, 10", "ABOVE, 100, 90, 15", "ABOVE, 100, 60, 10",
			"ABOVE, 100, 130, 10" })
	void readingsBeyondAMarkKeepTheMomentsOfTheTruncatedDistribution(ReadingQualifier qualifier, double mark, double mean,
			double deviation) {
		levels(mean, mean, deviation);
		assimilate(qualifier, mark, 0, 1);
		double mass = 0;
		double first = 0;
		double second = 0;
		double step = deviation / 1000;
		for (double x = mean - 8 * deviation + step / 2; x < mean + 8 * deviation; x += step) {
			double beyond = NormalDistribution.cdf(((qualifier == ReadingQualifier.BELOW) ? mark - x : x - mark) / TEST);
			double density = NormalDistribution.pdf((x - mean) / deviation) * beyond;
			mass += density;
			first += density * x;
			second += density * x * x;
		}
		double expected = first / mass;
		assertThat(state.mean(level, 0)).isCloseTo(expected, within(1e-3));
		assertThat(state.variance(level, 0)).isCloseTo(second / mass - expected * expected, within(1e-2));
	}

	/** By the normal densities of 60 about 50 and about 65 with 6² + 8² = 10². */
	@Test
	void particlesAreWeighedByHowWellTheyFit() {
		levels(50, 65, 8);
		assimilate(ReadingQualifier.EXACT, 60, 0, 1);
		assertThat(weight[1] / weight[0]).isCloseTo(Math.exp(0.5 * (1 - 0.25)), within(1e-9));
		assertThat(weight[0] + weight[1]).isCloseTo(1, within(1e-12));
	}

	/** By the chance of a test below 30 of levels of 40 and of 20, 10 ppm off: cdf(-1) and cdf(1), 0.158655 and 0.841345. */
	@Test
	void readingsBeyondAMarkWeighByTheirProbability() {
		levels(40, 20, 8);
		assimilate(ReadingQualifier.BELOW, 30, 0, 1);
		assertThat(weight[0]).isCloseTo(0.158655, within(1e-6));
		weight[0] = weight[1] = 0.5;
		levels(40, 20, 8);
		assimilate(ReadingQualifier.ABOVE, 30, 0, 1);
		assertThat(weight[0]).isCloseTo(0.841345, within(1e-6));
	}

	/** Where nothing else explains it a reading is lognormal about the level, spread 0.8: 300 about 50 and 100. It moves nothing. */
	@Test
	void outliersMoveNoLevelAndWeighByTheirOwnDensity() {
		levels(50, 100, 1);
		ReadingAssimilation assimilation = assimilate(ReadingQualifier.EXACT, 300, 0.02, 1);
		assertThat(assimilation.outlier()).isTrue();
		assertThat(assimilation.expected()).isCloseTo(75, within(1e-9));
		assertThat(state.mean(level, 0)).isEqualTo(50);
		assertThat(state.mean(level, 1)).isEqualTo(100);
		double far = Math.log(6) / 0.8;
		double near = Math.log(3) / 0.8;
		assertThat(weight[1] / weight[0]).isCloseTo(Math.exp(0.5 * (far * far - near * near)), within(1e-6));
	}

	/**
	 * 100 is lognormal about 100 with a density of 1 / (100 × 0.8 √2π), which is that of half the outliers, normal with one of 1 / (10 √2π); the
	 * chance of an outlier a priori such that both are as likely. Of many such readings half are outliers, and one in which just half the weight is, is none.
	 */
	@Test
	void outliersAreAsFrequentAsBayesSaysAndATieIsNone() {
		double share = 160 / 170.0;
		int outliers = 0;
		boolean tie = false;
		for (long seed = 0; seed < 2000; seed++) {
			levels(100, 100, 8);
			ReadingAssimilation assimilation = assimilate(ReadingQualifier.EXACT, 100, share, seed);
			int moved = (state.variance(level, 0) < 64 ? 1 : 0) + (state.variance(level, 1) < 64 ? 1 : 0);
			outliers += 2 - moved;
			tie |= moved == 1;
			assertThat(assimilation.outlier()).isEqualTo(moved == 0);
		}
		assertThat(tie).isTrue();
		assertThat(outliers / 4000.0).isCloseTo(0.5, within(4 * 0.5 / Math.sqrt(4000)));
	}

	/** 20 % of the outliers are twice the level, 20 % half of it, 5 % ten times and 5 % a tenth: 100 of 50 ± 1 (test 6) by these densities. */
	@Test
	void readingTwiceAsHighIsAnOutlierLikelierThanOneOfNoPattern() {
		levels(50, 61, 1);
		assimilate(ReadingQualifier.EXACT, 100, 1, 1);
		double[] density = new double[2];
		for (int i = 0; i < 2; i++) {
			double predicted = (i == 0) ? 50 : 61;
			double broad = NormalDistribution.pdf(Math.log(100 / predicted) / 0.8) / (100 * 0.8);
			double twice = NormalDistribution.pdf((100 - 2 * predicted) / Math.sqrt(40)) / Math.sqrt(40);
			double half = NormalDistribution.pdf((100 - predicted / 2) / Math.sqrt(36.25)) / Math.sqrt(36.25);
			// ten times or a tenth of them is out of reach
			density[i] = 0.5 * broad + 0.2 * twice + 0.2 * half;
		}
		assertThat(weight[0]).isCloseTo(density[0] / (density[0] + density[1]), within(1e-9)).isGreaterThan(0.7);
	}

	/** Beyond what numbers can hold, a reading says nothing of which particle is right. */
	@Test
	void impossibleReadingLeavesNoParticleOut() {
		weight[0] = 0.9;
		weight[1] = 0.1;
		levels(50, 60, 1);
		assimilate(ReadingQualifier.EXACT, 50_000, 0, 1);
		assertThat(weight).containsExactly(0.5, 0.5);
	}

	/** Between 50 ± 8 predicted and 100 read ± 11 (a tenth of the reading, and 3): the error is taken at their weighted mean. */
	@Test
	void errorOfAReadingIsTakenBetweenPredictionAndReading() {
		TestPrecision precision = new TestPrecision(0.1, 3, 0, 0);
		levels(50, 50, 8);
		assimilate(new Reading(100, ReadingQualifier.EXACT, precision), 0, 1);
		double between = (50 / 64.0 + 100 / 109.0) / (1 / 64.0 + 1 / 109.0);
		double noise = 0.01 * between * between + 9;
		assertThat(state.variance(level, 0)).isCloseTo(1 / (1 / 64.0 + 1 / noise), within(1e-9));
	}

}
