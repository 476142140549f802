package org.meniscus.water.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigInteger;
import java.util.Arrays;
import java.util.stream.DoubleStream;

import org.junit.jupiter.api.Test;

class XorShiftRandomTests {

	private static final BigInteger WORD = BigInteger.ONE.shiftLeft(64);

	private static final int DRAWS = 200_000;

	/**
	 * xorshift64* as Vigna (ACM Transactions on Mathematical Software 42(4), 2016) defines it, in whole numbers modulo 2^64: shifts by 12, 25
	 * and 27, output times 2685821657736338717. The seed is spread by the golden ratio, 2^64 / 1.618.
	 */
	@Test
	void numbersAreThoseOfThePublishedGenerator() {
		for (long seed : new long[]{ 0, 1, 2, 77, -5, Long.MAX_VALUE }) {
			XorShiftRandom random = new XorShiftRandom(seed);
			BigInteger state = BigInteger.valueOf(seed).multiply(new BigInteger("11400714819323198485"))
				.add(new BigInteger("7146057691288625177")).mod(WORD);
			state = step(state);
			for (int n = 0; n < 100; n++) {
				state = step(state);
				BigInteger output = state.multiply(new BigInteger("2685821657736338717")).mod(WORD);
				assertThat(random.uniform()).isEqualTo(output.shiftRight(11).doubleValue() / Math.pow(2, 53));
			}
		}
	}

	private static BigInteger step(BigInteger state) {
		BigInteger first = state.xor(state.divide(BigInteger.TWO.pow(12)));
		BigInteger second = first.xor(first.multiply(BigInteger.TWO.pow(25)).mod(WORD));
		return second.xor(second.divide(BigInteger.TWO.pow(27)));
	}

	/** Of a uniform distribution: mean 1/2, variance 1/12, neighbours independent; four standard errors at most. */
	@Test
	void uniformNumbersAreEvenlySpreadAndIndependent() {
		XorShiftRandom random = new XorShiftRandom(1);
		double[] drawn = DoubleStream.generate(random::uniform).limit(DRAWS).toArray();
		assertThat(Arrays.stream(drawn).filter(value -> value < 0 || value >= 1)).isEmpty();
		double error = 4 / Math.sqrt(DRAWS);
		assertThat(mean(drawn)).isCloseTo(0.5, within(error * Math.sqrt(1 / 12.0)));
		assertThat(variance(drawn)).isCloseTo(1 / 12.0, within(error * Math.sqrt(1 / 180.0)));
		double product = 0;
		for (int n = 1; n < DRAWS; n++) {
			product += (drawn[n] - 0.5) * (drawn[n - 1] - 0.5) / DRAWS;
		}
		assertThat(product).isCloseTo(0, within(error / 12));
	}

	/** Two generators of one seed: the normal one gives the normal quantile of what the uniform one gives, to 12 bits. */
	@Test
	void normalNumbersAreQuantilesOfUniformOnes() {
		XorShiftRandom normal = new XorShiftRandom(9);
		XorShiftRandom uniform = new XorShiftRandom(9);
		for (int n = 0; n < 5_000; n++) {
			double probability = (Math.floor(4096 * uniform.uniform()) + 0.5) / 4096;
			assertThat(NormalDistribution.cdf(normal.normal())).isCloseTo(probability, within(1e-9));
		}
	}

	@Test
	void rangesAndChancesAreMetAsOftenAsTheySay() {
		XorShiftRandom random = new XorShiftRandom(3);
		double[] drawn = DoubleStream.generate(() -> random.uniform(-2, 6)).limit(DRAWS).toArray();
		assertThat(Arrays.stream(drawn).min().orElseThrow()).isBetween(-2.0, -1.99);
		assertThat(Arrays.stream(drawn).max().orElseThrow()).isBetween(5.99, 6.0);
		assertThat(mean(drawn)).isCloseTo(2, within(0.03));
		long met = DoubleStream.generate(() -> random.chance(0.2) ? 1 : 0).limit(DRAWS).filter(one -> one > 0).count();
		assertThat((double) met / DRAWS).isCloseTo(0.2, within(0.004));
		assertThat(random.chance(0)).isFalse();
		assertThat(random.chance(1)).isTrue();
	}

	/** Median 5 and s.d. 0.3 of the logarithm; mean 5 exp(0.3²/2). */
	@Test
	void lognormalNumbersHaveTheirMedianAndSpread() {
		XorShiftRandom random = new XorShiftRandom(4);
		double[] drawn = DoubleStream.generate(() -> random.lognormal(5, 0.3)).limit(DRAWS).toArray();
		double[] logs = Arrays.stream(drawn).map(Math::log).toArray();
		assertThat(mean(logs)).isCloseTo(Math.log(5), within(0.003));
		assertThat(Math.sqrt(variance(logs))).isCloseTo(0.3, within(0.003));
		assertThat(mean(drawn)).isCloseTo(5 * Math.exp(0.045), within(0.015));
	}

	/** Mean and standard deviation 2, and e^-1 of them above the mean. */
	@Test
	void exponentialNumbersHaveTheirMean() {
		XorShiftRandom random = new XorShiftRandom(5);
		double[] drawn = DoubleStream.generate(() -> random.exponential(2)).limit(DRAWS).toArray();
		assertThat(Arrays.stream(drawn).filter(value -> value < 0)).isEmpty();
		assertThat(mean(drawn)).isCloseTo(2, within(0.02));
		assertThat(Math.sqrt(variance(drawn))).isCloseTo(2, within(0.03));
		assertThat((double) Arrays.stream(drawn).filter(value -> value > 2).count() / DRAWS).isCloseTo(Math.exp(-1), within(0.005));
	}

	private static double mean(double[] values) {
		return Arrays.stream(values).average().orElseThrow();
	}

	private static double variance(double[] values) {
		double mean = mean(values);
		return Arrays.stream(values).map(value -> (value - mean) * (value - mean)).average().orElseThrow();
	}

}
