package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;

import org.junit.jupiter.api.Test;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/** What particles hold, by the rules of probability. */
class ParticleStateTests {

	/** 10 ± 2 with 1/4 and 20 ± 3 with 3/4: mean 17.5, variance within (1/4) 4 + (3/4) 9 and between (1/4) 7.5² + (3/4) 2.5². */
	@Test
	void varianceOfAllParticlesIsThatWithinAndBetweenThem() {
		ParticleLevels levels = new ParticleLevels(2);
		levels.mean[0] = 10;
		levels.mean[1] = 20;
		levels.variance[0] = 4;
		levels.variance[1] = 9;
		double[] weight = { 0.25, 0.75 };
		assertThat(levels.expected(weight)).isCloseTo(17.5, within(1e-12));
		assertThat(levels.totalVariance(weight, 17.5)).isCloseTo(7.75 + 18.75, within(1e-12));
	}

	@Test
	void aNewSeasonStartsWhereItIs() {
		ParticleLevels levels = new ParticleLevels(3);
		levels.reset(55, 35);
		assertThat(levels.mean).containsExactly(levels.startMean).containsOnly(55);
		assertThat(levels.variance).containsExactly(levels.startVariance).containsExactly(levels.covarianceWithStart).containsOnly(1225);
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

	@Test
	void onlyFillWaterOfFollowedLevelsIsResampled() {
		PoolParameters parameters = new PoolParameters(2);
		boolean[] follows = new boolean[SlowLevels.COUNT];
		int without = parameters.of(follows).size();
		follows[SlowLevels.CH] = true;
		assertThat(parameters.of(follows)).hasSize(without + 1)
			.anyMatch(values -> values == parameters.fill[SlowLevels.CH])
			.noneMatch(values -> values == parameters.fill[SlowLevels.CYA]);
	}

	/** docs/season.md: 8 of 10 tablets, 1 dichlor, 1 calcium hypochlorite; 0.675 ± 0.25 ppm of chlorine; CYA by molar masses. */
	@Test
	void unrecordedSourcesAreMostlyTablets() {
		int count = 20_000;
		UnrecordedSource source = new UnrecordedSource(count);
		XorShiftRandom random = new XorShiftRandom(7);
		int[] kinds = new int[3];
		for (int i = 0; i < count; i++) {
			source.begin(i, random);
			assertThat(source.present(i)).isTrue();
			boolean ch = source.raises(SlowLevels.CH, i);
			assertThat(source.raises(SlowLevels.CYA, i)).isNotEqualTo(ch);
			double perChlorine = source.mean[i] / 0.675;
			assertThat(Math.sqrt(source.variance[i])).isCloseTo(0.25 * perChlorine, within(1e-9));
			int kind = ch ? 2 : (perChlorine > 0.8) ? 1 : 0;
			assertThat(perChlorine).isCloseTo(new double[]{ 129.075 / (3 * 70.906), 2 * 129.075 / (4 * 70.906), 0.72 }[kind], within(1e-3));
			kinds[kind]++;
		}
		assertThat(kinds[0] / (double) count).isCloseTo(0.8, within(0.012));
		assertThat(kinds[1] / (double) count).isCloseTo(0.1, within(0.009));
		assertThat(kinds[2] / (double) count).isCloseTo(0.1, within(0.009));
		source.end(5);
		assertThat(source.present(5)).isFalse();
		assertThat(source.mean[5]).isZero();
	}

	/** Of a level of which nothing is known any more no source is known to go with it; its rate and the other level's stay. */
	@Test
	void forgottenLevelsTakeTheirCovariancesAlong() {
		UnrecordedSource source = sources();
		source.forget(SlowLevels.CYA);
		for (int i = 0; i < 100; i++) {
			double expected = source.raises(SlowLevels.CYA, i) ? 0 : i + 1;
			assertThat(source.covarianceWithLevel[i]).isEqualTo(expected);
			assertThat(source.covarianceWithStart[i]).isEqualTo(-expected);
			assertThat(source.mean[i]).isPositive();
		}
	}

	@Test
	void sourcesGoWithTheirParticles() {
		UnrecordedSource source = sources();
		UnrecordedSource before = sources();
		int[] from = IntStream.range(0, 100).map(i -> 99 - i).toArray();
		source.gather(from);
		for (int i = 0; i < 100; i++) {
			assertThat(source.raises(SlowLevels.CH, i)).isEqualTo(before.raises(SlowLevels.CH, 99 - i));
			assertThat(source.mean[i]).isEqualTo(before.mean[99 - i]);
			assertThat(source.variance[i]).isEqualTo(before.variance[99 - i]);
			assertThat(source.covarianceWithLevel[i]).isEqualTo(before.covarianceWithLevel[99 - i]);
			assertThat(source.covarianceWithStart[i]).isEqualTo(before.covarianceWithStart[99 - i]);
		}
	}

	private static UnrecordedSource sources() {
		UnrecordedSource source = new UnrecordedSource(100);
		XorShiftRandom random = new XorShiftRandom(7);
		for (int i = 0; i < 100; i++) {
			source.begin(i, random);
			source.covarianceWithLevel[i] = i + 1;
			source.covarianceWithStart[i] = -i - 1;
		}
		return source;
	}

}
