package org.meniscus.ui;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

class LevelRuleTests {

	private static final Range AROUND_ZERO = new Range(-0.3, -0.004, 0.3, 0.5, "");

	@Test
	void valueThatRoundsToZeroHasNoSign() {
		LevelRule rule = LevelRule.of("LSI", "", "OK", AROUND_ZERO, -0.004, ReadingQualifier.EXACT, -0.0049, 2);
		assertThat(rule.nowText()).isEqualTo("0.00");
		assertThat(rule.afterText()).isEqualTo("0.00");
		assertThat(rule.idealText()).isEqualTo("0.00–0.30");
	}

	@Test
	void negativeValueKeepsItsSign() {
		LevelRule rule = LevelRule.of("LSI", "", "OK", AROUND_ZERO, -0.146, ReadingQualifier.EXACT, null, 2);
		assertThat(rule.nowText()).isEqualTo("-0.15");
		assertThat(rule.lowText()).isEqualTo("-0.58");
		assertThat(rule.afterText()).isNull();
	}

}
