package org.meniscus.water.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TheilSenLineTests {

	/** Normal quantile of a two-sided interval of 93 %, as Sen's example has it. */
	private static final double Z93 = 1.8119106729525978;

	/**
	 * The example of Sen (1968), with the answers of SciPy's test of theilslopes (slope 4, interval 3.71 to 4.38) and of the R package
	 * deming's test of theilsen (26/7 and 35/8; it notes a misprint in the paper's list).
	 */
	@Test
	void slopeAndIntervalOfSensExample() {
		TheilSenLine line = TheilSenLine.through(new double[]{ 1, 2, 3, 4, 10, 12, 18 }, new double[]{ 9, 15, 19, 20, 45, 55, 78 }, Z93);
		assertThat(line.slope()).isCloseTo(4, within(1e-12));
		assertThat(line.low()).isCloseTo(26 / 7.0, within(1e-12));
		assertThat(line.high()).isCloseTo(35 / 8.0, within(1e-12));
	}

	/** SciPy's test of mstats.theilslopes: [0, 1, 1] gives slope 0.5; [0, 1, -, 1] gives 1/3. */
	@Test
	void slopeOfSciPysSmallExamples() {
		assertThat(TheilSenLine.through(new double[]{ 0, 1, 2 }, new double[]{ 0, 1, 1 }).slope()).isCloseTo(0.5, within(1e-12));
		assertThat(TheilSenLine.through(new double[]{ 0, 1, 3 }, new double[]{ 0, 1, 1 }).slope()).isCloseTo(1 / 3.0, within(1e-12));
	}

	/** By hand: three points make three slopes; Kendall's standard deviation is the root of 66/18, 1.915, and 1.2816 of it more than 1.5. */
	@Test
	void fewPointsDoNotBoundTheSlope() {
		TheilSenLine line = TheilSenLine.through(new double[]{ 0, 1, 2 }, new double[]{ 0, 1, 3 });
		assertThat(line.low()).isEqualTo(Double.NEGATIVE_INFINITY);
		assertThat(line.high()).isEqualTo(Double.POSITIVE_INFINITY);
	}

	/**
	 * By hand: slopes 1, 1.5, 2, 2, 2.5, 3; Kendall's standard deviation is the root of 4 × 3 × 13 / 18, 2.944, and (6 - 1.2816 × 2.944) / 2
	 * is 1.1: the interval runs from the first slope to the last.
	 */
	@Test
	void fourPointsBoundTheSlopeByItsExtremes() {
		TheilSenLine line = TheilSenLine.through(new double[]{ 0, 1, 2, 3 }, new double[]{ 0, 1, 3, 6 });
		assertThat(line).isEqualTo(new TheilSenLine(2, 1, 3));
	}

	@Test
	void pointsOfOneDayAreRefused() {
		assertThatThrownBy(() -> TheilSenLine.through(new double[]{ 3, 3 }, new double[]{ 1, 2 }))
			.isInstanceOf(IllegalArgumentException.class);
	}

	@ParameterizedTest
	@ValueSource(longs = { 11, 12, 13 })
	void orderOfPointsDoesNotMatter(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 100; round++) {
			int n = 4 + random.nextInt(10);
			double[] x = new double[n];
			double[] y = new double[n];
			for (int i = 0; i < n; i++) {
				x[i] = random.nextInt(40);
				y[i] = 10 * random.nextInt(12);
			}
			x[0] = 41;
			int[] order = random.ints(0, n).distinct().limit(n).toArray();
			TheilSenLine shuffled = TheilSenLine.through(Arrays.stream(order).mapToDouble(i -> x[i]).toArray(),
					Arrays.stream(order).mapToDouble(i -> y[i]).toArray());
			assertThat(shuffled).isEqualTo(TheilSenLine.through(x, y));
		}
	}

}
