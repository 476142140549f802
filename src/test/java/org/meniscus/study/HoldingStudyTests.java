package org.meniscus.study;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** A short form of {@link HoldingStudy}; the whole stands in docs/benchmarks.md. */
class HoldingStudyTests {

	@Test
	void ninetyInAHundredDosesHoldUntilTheNextVisit() {
		HoldingStudy.Result usual = HoldingStudy.of(PoolScenario.TWICE, 30, 0.9, 1);
		assertThat(usual.dosed().of()).isGreaterThan(500);
		assertThat(usual.dosed().share()).isBetween(0.87, 0.93);
		assertThat(usual.ph().share()).isBetween(0.75, 0.9);
	}

}
