package org.meniscus.spend;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;

import org.junit.jupiter.api.Test;

class SpendServiceTests {

	/** By hand: 17 of 31 days of March, April to August whole, 10 of 30 days of September: 5.8817 months of $180.00. */
	@Test
	void feeCountsWholeMonthsOnceAndPartialMonthsByDay() {
		assertThat(SpendService.feeFor(18_000, LocalDate.of(2026, 3, 15), LocalDate.of(2026, 9, 10))).isEqualTo(105_871);
		assertThat(SpendService.feeFor(18_000, LocalDate.of(2026, 2, 1), LocalDate.of(2026, 2, 28))).isEqualTo(18_000);
		assertThat(SpendService.feeFor(18_000, LocalDate.of(2026, 2, 14), LocalDate.of(2026, 2, 14))).isEqualTo(643);
	}

}
