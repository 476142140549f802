package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.water.units.NormalDistribution;

class ChlorineDemandTests {

	/** Quantiles of the standard normal: Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.5 and 26.6. */
	@Test
	void quantilesOfTheHandbook() {
		assertThat(NormalDistribution.quantile(0.9)).isCloseTo(1.28155, within(5e-6));
		assertThat(NormalDistribution.quantile(0.5)).isCloseTo(0, within(1e-9));
		assertThat(NormalDistribution.quantile(0.025)).isCloseTo(-1.95996, within(5e-6));
		assertThat(NormalDistribution.cdf(3)).isCloseTo(0.9986501, within(5e-8));
	}

	/** Unit normal loss at 0, 1 and -1: 0.3989, 1.0833, 0.0833, printed in tables of inventory textbooks; from memory. */
	@Test
	void theNormalLossFunctionIsThatOfTheTables() {
		assertThat(NormalDistribution.expectedExcess(0, 1, 0)).isCloseTo(0.3989, within(5e-5));
		assertThat(NormalDistribution.expectedExcess(1, 1, 0)).isCloseTo(1.0833, within(5e-5));
		assertThat(NormalDistribution.expectedExcess(0, 1, 1)).isCloseTo(0.0833, within(5e-5));
		assertThat(NormalDistribution.expectedExcess(3, 0, 1)).isEqualTo(2);
	}

	/** 14 % a day of a bather-free pool in summer: Wojtowicz, Swimming Pool and Spa Industry 5(1):15-19. */
	@Test
	void aShareADayIsAnExponential() {
		ChlorineDemand demand = ChlorineDemand.exactly(-Math.log(0.86), 0, 0);
		assertThat(demand.expected(4, 1)).isCloseTo(4 * 0.86, within(1e-12));
		assertThat(demand.expected(4, 7)).isCloseTo(4 * Math.pow(0.86, 7), within(1e-12));
	}

	@Test
	void closedFormEqualsSmallSteps() {
		ChlorineDemand demand = ChlorineDemand.exactly(0.12, 0.7, 0.3);
		double fc = 9;
		for (int step = 0; step < 700_000; step++) {
			fc += 1e-5 * (0.3 - 0.12 * fc - 0.7);
		}
		assertThat(demand.expected(9, 7)).isCloseTo(fc, within(1e-4));
	}

	@Test
	void aConstantUseEmptiesThePoolAndNotMore() {
		assertThat(ChlorineDemand.exactly(0, 1.5, 0).expected(4, 2)).isCloseTo(1, within(1e-12));
		assertThat(ChlorineDemand.exactly(0, 1.5, 0).expected(4, 5)).isZero();
	}

	@Test
	void chanceLeftAndNeededAreInverse() {
		ChlorineDemand demand = new ChlorineDemand(0.1, 0.6, 0, 0.15, 0.35, 0, 6);
		double needed = demand.requiredStart(2, fc -> 0.3, 7, 0.9, 40);
		assertThat(demand.exceededQuantile(needed, 0.3, 7, 0.9)).isCloseTo(2, within(1e-6));
		assertThat(demand.exceedanceProbability(needed, 0.3, 7, 2)).isCloseTo(0.9, within(1e-6));
		assertThat(demand.requiredStart(2, fc -> 0.3, 7, 0.97, 40)).isGreaterThan(needed);
		assertThat(demand.requiredStart(2, fc -> 0.3, 70, 0.97, 40)).isEqualTo(40, within(1e-6));
	}

	/** Against drawing: lognormal scale, normal supply and start, as the record says. */
	@Test
	void theStatedChanceIsThatOfDrawnIntervals() {
		ChlorineDemand demand = new ChlorineDemand(0.1, 0.5, 0.4, 0.1, 0.35, 0.2, 6);
		double left = demand.exceededQuantile(9, 0.5, 7, 0.9);
		Random random = new Random(11);
		int above = 0;
		int drawn = 40_000;
		for (int n = 0; n < drawn; n++) {
			double scale = Math.exp(0.35 * random.nextGaussian());
			double supply = Math.max(0, 0.4 + 0.2 * random.nextGaussian());
			double start = 9 + 0.5 * random.nextGaussian();
			double fc = ChlorineDemand.exactly(0.1 * scale, 0.5 * scale, supply).expected(start, 7);
			if (fc >= left) {
				above++;
			}
		}
		assertThat((double) above / drawn).isBetween(0.88, 0.92);
	}

}
