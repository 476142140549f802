package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;

import org.junit.jupiter.api.Test;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/** What particles hold, by the rules of probability. */
class ParticleStateTests {

	private static final int[] CYA_AND_CH = { SlowLevels.CYA, SlowLevels.CH };

	/** 10 ± 2 with 1/4 and 20 ± 3 with 3/4: mean 17.5, variance within (1/4) 4 + (3/4) 9 and between (1/4) 7.5² + (3/4) 2.5². */
	@Test
	void varianceOfAllParticlesIsThatWithinAndBetweenThem() {
		JointNormalParticles state = new JointNormalParticles(2, CYA_AND_CH);
		int level = state.level(SlowLevels.CH);
		state.set(level, 0, 10, 4);
		state.set(level, 1, 20, 9);
		double[] weight = { 0.25, 0.75 };
		assertThat(state.expected(level, weight)).isCloseTo(17.5, within(1e-12));
		assertThat(state.totalVariance(level, weight, 17.5)).isCloseTo(7.75 + 18.75, within(1e-12));
	}

	@Test
	void aNewSeasonStartsWhereItIs() {
		JointNormalParticles state = new JointNormalParticles(1, CYA_AND_CH);
		int level = state.level(SlowLevels.CYA);
		int start = state.start(SlowLevels.CYA);
		state.set(level, 0, 55, 1225);
		state.startHere(SlowLevels.CYA, 0);
		assertThat(state.mean(start, 0)).isEqualTo(55);
		assertThat(state.variance(start, 0)).isEqualTo(1225);
		assertThat(state.covariance(level, start, 0)).isEqualTo(1225);
		assertThat(state.covariance(start, level, 0)).isEqualTo(1225);
	}

	/**
	 * CH = 0.9 CH + 2 g + 0.1 F with CH 300 ± 10, g 1 ± 0.1, F 200 ± 40, then a measurement of CH: variance 0.81 × 100 + 4 × 0.01 + 0.01 ×
	 * 1600 + 0.5 of noise, covariance with F 0.1 × 1600. Kalman 1960.
	 */
	@Test
	void levelsMoveTogetherWithWhatMovesThem() {
		JointNormalParticles state = new JointNormalParticles(1, CYA_AND_CH);
		int level = state.level(SlowLevels.CH);
		int fill = state.fill(SlowLevels.CH);
		state.set(level, 0, 300, 100);
		state.set(state.doseFactor, 0, 1, 0.01);
		state.set(fill, 0, 200, 1600);
		JointNormalParticles.Step step = new JointNormalParticles.Step();
		step.day(0.9, 2, 0, 0.1, 0.5);
		state.transform(SlowLevels.CH, 0, 292, step);
		double variance = 81 + 0.04 + 16 + 0.5;
		assertThat(state.variance(level, 0)).isCloseTo(variance, within(1e-9));
		assertThat(state.covariance(level, fill, 0)).isCloseTo(160, within(1e-9));
		assertThat(state.covariance(state.doseFactor, level, 0)).isCloseTo(0.02, within(1e-12));
		state.update(0, level, 1, level, 0, 10 / (variance + 25), 1 / (variance + 25));
		assertThat(state.mean(fill, 0)).isCloseTo(200 + 160 * 10 / (variance + 25), within(1e-9));
		assertThat(state.variance(fill, 0)).isCloseTo(1600 - 160 * 160 / (variance + 25), within(1e-9));
		assertThat(state.mean(level, 0)).isCloseTo(292 + variance * 10 / (variance + 25), within(1e-9));
	}

	/** Two days in one step are two steps of one day. */
	@Test
	void stepsOfDaysMultiplyUp() {
		JointNormalParticles.Step step = new JointNormalParticles.Step();
		step.day(0.9, 2, 1, 0.1, 0.5);
		step.day(0.8, 3, 0, 0.2, 0.25);
		assertThat(step.retained).isCloseTo(0.72, within(1e-12));
		assertThat(step.dosed).isCloseTo(0.8 * 2 + 3, within(1e-12));
		assertThat(step.demand).isCloseTo(0.8, within(1e-12));
		assertThat(step.filled).isCloseTo(0.8 * 0.1 + 0.2, within(1e-12));
		assertThat(step.noise).isCloseTo(0.64 * 0.5 + 0.25, within(1e-12));
	}

	/** What is added later starts independent, and room is made without losing anything. */
	@Test
	void componentsCanBeAddedAndGoWithTheirParticles() {
		JointNormalParticles state = new JointNormalParticles(3, CYA_AND_CH);
		int level = state.level(SlowLevels.CYA);
		for (int i = 0; i < 3; i++) {
			state.set(level, i, 40 + i, 100 + i);
			state.startHere(SlowLevels.CYA, i);
		}
		int last = 0;
		for (int n = 0; n < 20; n++) {
			last = state.add();
			state.set(last, 2, n, 1);
		}
		state.update(2, level, 1, last, 1, 0.1, 1.0 / 200);
		assertThat(state.covariance(level, last, 2)).isCloseTo(-102 * 1 / 200.0, within(1e-9));
		state.gather(new int[]{ 0, 2, 2 });
		assertThat(state.mean(level, 0)).isEqualTo(40);
		assertThat(state.mean(level, 1)).isEqualTo(state.mean(level, 2)).isCloseTo(42 + 10.2, within(1e-9));
		assertThat(state.mean(last, 1)).isCloseTo(19.1, within(1e-9));
		state.set(level, 1, 7, 1);
		assertThat(state.mean(level, 2)).as("copies are of their own").isCloseTo(52.2, within(1e-9));
	}

	/** [[4, 2], [2, 5]] = L Lᵀ with L = [[2, 0], [1, 2]]; what is certain has a row of zeros. */
	@Test
	void choleskyFactorReproducesTheCovariance() {
		JointNormalParticles state = new JointNormalParticles(1, CYA_AND_CH);
		int one = state.level(SlowLevels.CYA);
		int two = state.level(SlowLevels.CH);
		state.set(one, 0, 1, 4);
		state.set(two, 0, 1, 5);
		state.addCovariance(one, two, 0, 2);
		state.addCovariance(two, one, 0, 2);
		double[][] factor = state.cholesky(new int[]{ one, two, state.doseFactor }, 0);
		assertThat(factor[0]).containsExactly(2, 0, 0);
		assertThat(factor[1]).containsExactly(1, 2, 0);
		assertThat(factor[2]).containsOnly(0);
	}

	/** Half of what new plaster gives off has come after 25 ln 2 = 17.3 days; all in all it is 66 ppm, to the width of a day. */
	@Test
	void plasterGivesOffAThirdOfTheRestUntilAllIsOut() {
		PoolParameters parameters = new PoolParameters(2);
		parameters.plaster[1] = 66;
		double sum = 0;
		for (int day = 0; day < 1000; day++) {
			sum += parameters.plasterRelease(1, day);
			assertThat(parameters.plasterRelease(0, day)).isZero();
		}
		assertThat(sum).isCloseTo(66, within(66 * 0.5 / 25 + 0.1));
		assertThat(parameters.plasterRelease(1, 25) / parameters.plasterRelease(1, 0)).isCloseTo(Math.exp(-1), within(1e-12));
	}

	/** docs/season.md: 8 of 10 tablets, 1 dichlor, 1 calcium hypochlorite; 0.675 ± 0.25 ppm of chlorine; CYA by molar masses. */
	@Test
	void unrecordedSourcesAreMostlyTablets() {
		int count = 20_000;
		JointNormalParticles state = new JointNormalParticles(count, CYA_AND_CH);
		UnrecordedSource source = new UnrecordedSource(state);
		XorShiftRandom random = new XorShiftRandom(7);
		int[] kinds = new int[3];
		for (int i = 0; i < count; i++) {
			source.begin(i, random);
			assertThat(source.present(i)).isTrue();
			boolean ch = source.raises(SlowLevels.CH, i);
			assertThat(source.raises(SlowLevels.CYA, i)).isNotEqualTo(ch);
			double perChlorine = state.mean(state.unrecordedRate, i) / 0.675;
			assertThat(Math.sqrt(state.variance(state.unrecordedRate, i))).isCloseTo(0.25 * perChlorine, within(1e-9));
			int kind = ch ? 2 : (perChlorine > 0.8) ? 1 : 0;
			assertThat(perChlorine).isCloseTo(new double[]{ 129.075 / (3 * 70.906), 2 * 129.075 / (4 * 70.906), 0.72 }[kind], within(1e-3));
			kinds[kind]++;
		}
		assertThat(kinds[0] / (double) count).isCloseTo(0.8, within(0.012));
		assertThat(kinds[1] / (double) count).isCloseTo(0.1, within(0.009));
		assertThat(kinds[2] / (double) count).isCloseTo(0.1, within(0.009));
		source.end(5);
		assertThat(source.present(5)).isFalse();
		assertThat(state.mean(state.unrecordedRate, 5)).isZero();
		assertThat(state.variance(state.unrecordedRate, 5)).isZero();
	}

	@Test
	void sourcesGoWithTheirParticles() {
		UnrecordedSource source = sources();
		UnrecordedSource before = sources();
		int[] from = IntStream.range(0, 100).map(i -> 99 - i).toArray();
		source.gather(from);
		for (int i = 0; i < 100; i++) {
			assertThat(source.raises(SlowLevels.CH, i)).isEqualTo(before.raises(SlowLevels.CH, 99 - i));
		}
	}

	private static UnrecordedSource sources() {
		UnrecordedSource source = new UnrecordedSource(new JointNormalParticles(100, CYA_AND_CH));
		XorShiftRandom random = new XorShiftRandom(7);
		for (int i = 0; i < 100; i++) {
			source.begin(i, random);
		}
		return source;
	}

}
