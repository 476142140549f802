package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Objects;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RobustLineTests {

	private static final double INFINITY = Double.POSITIVE_INFINITY;

	/** Normal quantile of a two-sided interval of 93 %, as Sen's example has it. */
	private static final double Z93 = 1.8119106729525978;

	private static RobustLine line(double[] x, double[] y) {
		return Objects.requireNonNull(RobustLine.through(x, y, y, Z93));
	}

	/**
	 * The example of Sen (1968), with the answers of SciPy's test of theilslopes (method "joint": slope 4, intercept 6, interval
	 * 3.71 to 4.38) and of the R package deming's test of theilsen (26/7 and 35/8; it notes a misprint in the paper's list).
	 */
	@Test
	void sensOwnExample() {
		RobustLine line = line(new double[]{ 1, 2, 3, 4, 10, 12, 18 }, new double[]{ 9, 15, 19, 20, 45, 55, 78 });
		assertThat(line.slope()).isCloseTo(4, within(1e-12));
		assertThat(line.intercept()).isCloseTo(6, within(1e-12));
		assertThat(line.slopeLow()).isCloseTo(26 / 7.0, within(1e-12));
		assertThat(line.slopeHigh()).isCloseTo(35 / 8.0, within(1e-12));
	}

	/** SciPy's test of mstats.theilslopes: [0, 1, 1] gives slope 0.5 and joint intercept 0; [0, 1, -, 1] gives 1/3 and 0. */
	@Test
	void sciPysSmallExamples() {
		RobustLine three = line(new double[]{ 0, 1, 2 }, new double[]{ 0, 1, 1 });
		assertThat(three.slope()).isCloseTo(0.5, within(1e-12));
		assertThat(three.intercept()).isCloseTo(0, within(1e-12));
		RobustLine masked = line(new double[]{ 0, 1, 3 }, new double[]{ 0, 1, 1 });
		assertThat(masked.slope()).isCloseTo(1 / 3.0, within(1e-12));
		assertThat(masked.intercept()).isCloseTo(0, within(1e-12));
	}

	/**
	 * Worked by hand: days 0, 10, 20 and 30 read "below 30", 40, 50 and "above 60". Pair slopes: (0,10) 1 to 4, (0,20) 1 to
	 * 2.5, (0,30) 1 or more, (10,20) 1, (10,30) 1 or more, (20,30) 1 or more. None is surely below 1 and none surely above 1 but
	 * all are at least 1, so just above 1 the balance is -1 (the exact pair) and just below it is +6: the median is 1.
	 */
	@Test
	void openReadingsBoundTheSlopeByHand() {
		RobustLine line = Objects.requireNonNull(RobustLine.through(new double[]{ 0, 10, 20, 30 },
				new double[]{ 0, 40, 50, 60 }, new double[]{ 30, 40, 50, INFINITY }, 1.2815515655446004));
		assertThat(line.slope()).isEqualTo(1);
		assertThat(line.intercept()).isEqualTo(30);
	}

	/** A reading "above 100" late in a rising series must not pull the slope down, as the bare value 100 would. */
	@Test
	void openReadingIsNotTakenForItsMark() {
		double[] x = { 0, 7, 14, 21, 28, 35 };
		double[] low = { 70, 80, 90, 100, 100, 100 };
		double[] high = { 70, 80, 90, INFINITY, INFINITY, INFINITY };
		double asBounds = Objects.requireNonNull(RobustLine.through(x, low, high, 1.28)).slope();
		double asValues = Objects.requireNonNull(RobustLine.through(x, low, low, 1.28)).slope();
		assertThat(asBounds * 7).isCloseTo(10, within(1e-9));
		assertThat(asValues * 7).isLessThan(8);
	}

	@Test
	void readingsOpenOnOneSideOnlySayNothing() {
		double[] x = { 0, 7, 14, 21 };
		double[] low = { 100, 100, 100, 100 };
		double[] high = { INFINITY, INFINITY, INFINITY, INFINITY };
		assertThat(RobustLine.through(x, low, high, 1.28)).isNull();
		assertThat(RobustLine.intercept(0, x, low, high)).isNaN();
	}

	@Test
	void pointsOnOneDaySayNothing() {
		assertThat(RobustLine.through(new double[]{ 3, 3 }, new double[]{ 1, 2 }, new double[]{ 1, 2 }, 1.28)).isNull();
	}

	/** With exact points the balance rule must be the ordinary median, for even and odd counts and with ties. */
	@ParameterizedTest
	@ValueSource(longs = { 1, 2, 3, 4, 5 })
	void exactPointsGiveTheOrdinaryMedian(long seed) {
		Random random = new Random(seed);
		for (int round = 0; round < 200; round++) {
			double[] values = random.ints(1 + random.nextInt(12), 0, 8).asDoubleStream().sorted().toArray();
			int n = values.length;
			double expected = (values[(n - 1) / 2] + values[n / 2]) / 2;
			assertThat(RobustLine.median(values, values)).isCloseTo(expected, within(1e-12));
		}
	}

	@ParameterizedTest
	@ValueSource(longs = { 11, 12, 13 })
	void orderDoesNotMatter(long seed) {
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
			RobustLine straight = line(x, y);
			int[] order = random.ints(0, n).distinct().limit(n).toArray();
			RobustLine shuffled = line(Arrays.stream(order).mapToDouble(i -> x[i]).toArray(),
					Arrays.stream(order).mapToDouble(i -> y[i]).toArray());
			assertThat(shuffled).isEqualTo(straight);
		}
	}

}
