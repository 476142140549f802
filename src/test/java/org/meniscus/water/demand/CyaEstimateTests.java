package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.meniscus.water.pool.TestPrecision;

class CyaEstimateTests {

	/** Each test weighs by one over its variance, and the variances add up the same way: the textbook's weighted mean of measurements. */
	@Test
	void testsOnOneDayAreAWeightedMean() {
		double first = TestPrecision.TURBIDITY_TUBE.variance(40);
		double second = TestPrecision.TURBIDITY_TUBE.variance(55);
		double third = TestPrecision.TURBIDITY_TUBE.variance(45);
		CyaEstimate level = CyaEstimate.of(40).update(55).update(45);
		double weight = 1 / first + 1 / second + 1 / third;
		assertThat(level.ppm()).isCloseTo((40 / first + 55 / second + 45 / third) / weight, within(1e-9));
		assertThat(level.variance()).isCloseTo(1 / weight, within(1e-9));
	}

	@Test
	void theLongerAgoTheLessAnOldTestWeighs() {
		assertThat(wayToTheTest(14)).isBetween(0.4, 0.5);
		assertThat(wayToTheTest(280)).isBetween(0.55, 0.7);
	}

	private static double wayToTheTest(int days) {
		CyaEstimate old = CyaEstimate.of(40).predict(days, 10);
		return (old.update(50).ppm() - old.ppm()) / (50 - old.ppm());
	}

	/** 0.13 % a day at 28 °C, half as much at 18 °C, and 0.12 % with water that leaves: common practice, no source. */
	@Test
	void breaksDownInWarmWaterAndLeavesWithWater() {
		assertThat(CyaEstimate.of(50).predict(30, 28).ppm()).isCloseTo(50 * Math.exp(-30 * 0.0025), within(1e-9));
		assertThat(CyaEstimate.of(50).predict(30, 18).ppm()).isCloseTo(50 * Math.exp(-30 * 0.00185), within(1e-9));
	}

	@Test
	void aTestFarOffIsBelievedAlone() {
		assertThat(CyaEstimate.of(80).predict(28, 25).update(20)).isEqualTo(CyaEstimate.of(20));
		assertThat(CyaEstimate.of(0).update(0).ppm()).isZero();
	}

}
