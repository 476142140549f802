package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.stream.DoubleStream;

import org.junit.jupiter.api.Test;
import org.meniscus.water.units.XorShiftRandom;

class ResamplingTests {

	@Test
	void effectiveSampleSizeIsOneForOneHeavyParticleAndAllForEqualOnes() {
		assertThat(Resampling.effectiveSampleSize(new double[]{ 0, 1, 0, 0 })).isCloseTo(1, within(1e-12));
		assertThat(Resampling.effectiveSampleSize(new double[]{ 0.25, 0.25, 0.25, 0.25 })).isCloseTo(4, within(1e-12));
		// 1 / (0.5² + 2 × 0.25²)
		assertThat(Resampling.effectiveSampleSize(new double[]{ 0.5, 0.25, 0.25 })).isCloseTo(1 / 0.375, within(1e-12));
	}

	/** Systematic resampling takes a particle of weight w either floor(n w) or ceil(n w) times. */
	@Test
	void particlesAreTakenAsOftenAsTheirWeightSays() {
		XorShiftRandom random = new XorShiftRandom(3);
		for (int round = 0; round < 200; round++) {
			double[] weight = DoubleStream.generate(random::uniform).limit(20).toArray();
			Resampling.normalize(weight, Arrays.stream(weight).sum());
			int[] taken = new int[20];
			int[] from = Resampling.systematicResample(weight, 50);
			assertThat(from).hasSize(50).isSorted();
			for (int particle : from) {
				taken[particle]++;
			}
			for (int i = 0; i < weight.length; i++) {
				assertThat(taken[i]).isBetween((int) Math.floor(50 * weight[i] - 1e-9), (int) Math.ceil(50 * weight[i] + 1e-9));
			}
		}
	}

	/** Up to sampling error: 0.1 of the spread, drawn 20,000 times. */
	@Test
	void jitterKeepsMeanAndSpread() {
		XorShiftRandom random = new XorShiftRandom(4);
		double[] values = DoubleStream.generate(() -> 5 + 2 * random.normal()).limit(20_000).toArray();
		double[] before = values.clone();
		Resampling.jitter(values, false, random);
		assertThat(values).isNotEqualTo(before);
		assertThat(mean(values)).isCloseTo(mean(before), within(0.01));
		assertThat(deviation(values)).isCloseTo(deviation(before), within(0.01));
	}

	@Test
	void jitterLeavesPositiveParametersPositiveAndThoseSwitchedOffAtZero() {
		XorShiftRandom random = new XorShiftRandom(5);
		double[] values = { 0, 0.001, 0.5, 0, 40, 3 };
		Resampling.jitter(values, true, random);
		assertThat(values[0]).isZero();
		assertThat(values[3]).isZero();
		assertThat(DoubleStream.of(values[1], values[2], values[4], values[5]).boxed()).allMatch(value -> value > 0);
	}

	private static double mean(double[] values) {
		return Arrays.stream(values).average().orElseThrow();
	}

	private static double deviation(double[] values) {
		double mean = mean(values);
		return Math.sqrt(Arrays.stream(values).map(value -> (value - mean) * (value - mean)).average().orElseThrow());
	}

}
