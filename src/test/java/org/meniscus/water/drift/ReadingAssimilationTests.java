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

	private final UnrecordedSource none = new UnrecordedSource(2);

	private final double[] weight = { 0.5, 0.5 };

	ReadingAssimilationTests() {
		none.end(0);
		none.end(1);
	}

	private static ParticleLevels levels(double first, double second, double deviation) {
		ParticleLevels levels = new ParticleLevels(2);
		levels.reset(0, deviation);
		levels.mean[0] = levels.startMean[0] = first;
		levels.mean[1] = levels.startMean[1] = second;
		return levels;
	}

	private ReadingAssimilation assimilate(ParticleLevels levels, ReadingQualifier qualifier, double value, double bias,
			double outlierShare, long seed) {
		ReadingAssimilation assimilation = new ReadingAssimilation(levels, SlowLevels.CYA, none,
				new Reading(value, qualifier, new TestPrecision(0, TEST, 0, 0)));
		assimilation.update(new double[]{ bias, bias }, weight, outlierShare, new XorShiftRandom(seed));
		return assimilation;
	}

	/** Precisions add up: a technician who reads a tenth too high shows the level with f = 1.1. */
	@Test
	void exactReadingsAreWeighedByTheirPrecisionAndCorrectedForTheBias() {
		ParticleLevels levels = levels(50, 50, 8);
		assimilate(levels, ReadingQualifier.EXACT, 66, Math.log(1.1), 0, 1);
		double precision = 1 / 64.0 + 1.1 * 1.1 / (TEST * TEST);
		assertThat(levels.mean[0]).isCloseTo((50 / 64.0 + 1.1 * 66 / (TEST * TEST)) / precision, within(1e-9));
		assertThat(levels.variance[0]).isCloseTo(1 / precision, within(1e-9));
		assertThat(levels.startMean[0]).as("nothing happened since the start").isCloseTo(levels.mean[0], within(1e-9));
		assertThat(levels.startVariance[0]).isCloseTo(levels.variance[0], within(1e-9));
		assertThat(levels.covarianceWithStart[0]).isCloseTo(levels.variance[0], within(1e-9));
		assertThat(weight).containsExactly(0.5, 0.5);
	}

	/** Mean and variance of the level given that a test of it stood beyond the mark, by the midpoint rule. */
	@ParameterizedTest
	@CsvSource({ "BELOW, 30, 40, 12", "BELOW, 30, 20, 12", "BELOW, 30, 70, 10", "ABOVE, 100, 90, 15", "ABOVE, 100, 60, 10",
			"ABOVE, 100, 130, 10" })
	void readingsBeyondAMarkKeepTheMomentsOfTheTruncatedDistribution(ReadingQualifier qualifier, double mark, double mean,
			double deviation) {
		ParticleLevels levels = levels(mean, mean, deviation);
		assimilate(levels, qualifier, mark, 0, 0, 1);
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
		assertThat(levels.mean[0]).isCloseTo(expected, within(1e-3));
		assertThat(levels.variance[0]).isCloseTo(second / mass - expected * expected, within(1e-2));
	}

	/** By the normal densities of 60 about 50 and about 65 with 6² + 8² = 10². */
	@Test
	void particlesAreWeighedByHowWellTheyFit() {
		assimilate(levels(50, 65, 8), ReadingQualifier.EXACT, 60, 0, 0, 1);
		assertThat(weight[1] / weight[0]).isCloseTo(Math.exp(0.5 * (1 - 0.25)), within(1e-9));
		assertThat(weight[0] + weight[1]).isCloseTo(1, within(1e-12));
	}

	/** By the chance of a test below 30 of levels of 40 and of 20, 10 ppm off: cdf(-1) and cdf(1), 0.158655 and 0.841345. */
	@Test
	void readingsBeyondAMarkWeighByTheirProbability() {
		assimilate(levels(40, 20, 8), ReadingQualifier.BELOW, 30, 0, 0, 1);
		assertThat(weight[0]).isCloseTo(0.158655, within(1e-6));
		weight[0] = weight[1] = 0.5;
		assimilate(levels(40, 20, 8), ReadingQualifier.ABOVE, 30, 0, 0, 1);
		assertThat(weight[0]).isCloseTo(0.841345, within(1e-6));
	}

	/** Where nothing else explains it a reading is lognormal about the level, spread 0.8: 500 about 50 and 100. It moves nothing. */
	@Test
	void outliersMoveNoLevelAndWeighByTheirOwnDensity() {
		ParticleLevels levels = levels(50, 100, 1);
		ReadingAssimilation assimilation = assimilate(levels, ReadingQualifier.EXACT, 500, 0, 0.02, 1);
		assertThat(assimilation.outlier()).isTrue();
		assertThat(assimilation.expected()).isCloseTo(75, within(1e-9));
		assertThat(levels.mean).containsExactly(50, 100);
		double far = Math.log(10) / 0.8;
		double near = Math.log(5) / 0.8;
		assertThat(weight[1] / weight[0]).isCloseTo(Math.exp(0.5 * (far * far - near * near)), within(1e-6));
	}

	/**
	 * 100 is lognormal about 100 with a density of 1 / (100 × 0.8 √2π), normal with one of 1 / (10 √2π); the chance of an outlier a priori
	 * such that both are as likely. Of many such readings half are outliers, and one in which just half the weight is, is none.
	 */
	@Test
	void outliersAreAsFrequentAsBayesSaysAndATieIsNone() {
		double share = 80 / 90.0;
		int outliers = 0;
		boolean tie = false;
		for (long seed = 0; seed < 2000; seed++) {
			ParticleLevels levels = levels(100, 100, 8);
			ReadingAssimilation assimilation = assimilate(levels, ReadingQualifier.EXACT, 100, 0, share, seed);
			int moved = (levels.variance[0] < 64 ? 1 : 0) + (levels.variance[1] < 64 ? 1 : 0);
			outliers += 2 - moved;
			tie |= moved == 1;
			assertThat(assimilation.outlier()).isEqualTo(moved == 0);
		}
		assertThat(tie).isTrue();
		assertThat(outliers / 4000.0).isCloseTo(0.5, within(4 * 0.5 / Math.sqrt(4000)));
	}

	/** Beyond what numbers can hold, a reading says nothing of which particle is right. */
	@Test
	void impossibleReadingLeavesNoParticleOut() {
		weight[0] = 0.9;
		weight[1] = 0.1;
		assimilate(levels(50, 60, 1), ReadingQualifier.EXACT, 50_000, 0, 0, 1);
		assertThat(weight).containsExactly(0.5, 0.5);
	}

	/** Between 50 ± 8 predicted and 100 read ± 11 (a tenth of the reading, and 3): the error is taken at their weighted mean. */
	@Test
	void errorOfAReadingIsTakenBetweenPredictionAndReading() {
		TestPrecision precision = new TestPrecision(0.1, 3, 0, 0);
		ParticleLevels levels = levels(50, 50, 8);
		ReadingAssimilation assimilation = new ReadingAssimilation(levels, SlowLevels.CYA, none,
				new Reading(100, ReadingQualifier.EXACT, precision));
		assimilation.update(new double[]{ 0, 0 }, weight, 0, new XorShiftRandom(1));
		double between = (50 / 64.0 + 100 / 109.0) / (1 / 64.0 + 1 / 109.0);
		double noise = 0.01 * between * between + 9;
		assertThat(levels.variance[0]).isCloseTo(1 / (1 / 64.0 + 1 / noise), within(1e-9));
	}

}
