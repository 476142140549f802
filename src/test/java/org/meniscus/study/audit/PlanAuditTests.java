package org.meniscus.study.audit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import java.util.ResourceBundle;
import java.util.Set;
import java.util.TreeSet;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.support.Draws;

/**
 * Plans of drawn waters pass the checks that all of them pass so far. Those that some plans fail stand with their counts in
 * docs/benchmarks.md; a check joins the list below once its count is zero, and stays.
 */
class PlanAuditTests {

	/** Not fewer in the fast lane: a check that stands at zero is no sample. */
	private static final int WATERS = Math.max(2_000, Draws.COUNT);

	private static PlanAudit audit;

	@BeforeAll
	static void draw() {
		audit = PlanAudit.run(WATERS, 20261127, 1);
	}

	@ParameterizedTest
	@EnumSource(names = { "PH_LEFT_OUT", "PH_OUT_WITH_CHLORINE", "PH_FORGOTTEN", "LEFT_OUT_FOR_WANT", "INDEX_LEFT", "INDEX_LEFT_PH_OUT",
			"FROM_TO_SAME", "BEFORE_THE_TEST", "DRAIN_FOR_LITTLE", "INDEX_BY_ACID", "DOSE_THEN_DRAIN", "AERATE_WITHOUT_ACID",
			"TEST_NOT_TRUSTED", "OXIDIZER_NOT_SAID",
			"HOLD_ABOVE_LABEL", "FORBIDDEN", "OUT_OF_PLACE", "SHORTAGE_UNSAID", "BELOW_MINIMUM",
			"BROMINE_LOW", "OPEN_THOUGH_CLOSED", "CLOCK_WHEN_CLOSED",
			"CLOSED_NOT_FIRST", "AMOUNT", "LEVELS", "ABOVE_MOST", "DOSE_AGAIN", "JUMP" })
	void noPlanFails(AuditCheck check) {
		assertThat(audit.plans()).isGreaterThan(WATERS / 2);
		assertThat(audit.count(check)).as("%s%n%s", check.text(), String.join("\n", audit.examples(check))).isZero();
	}

	/** A renamed code would make a check pass because nothing says it any more. */
	@Test
	void codesThatTheChecksGoByStillStandInTheMessages() {
		Set<String> codes = new TreeSet<>(AuditWords.CODES);
		codes.addAll(AuditWords.cautions());
		assertThat(codes).hasSizeGreaterThan(40)
			.allSatisfy(code -> assertThat(ResourceBundle.getBundle("messages.water", Locale.ROOT).containsKey("water." + code)).as(code)
				.isTrue());
	}

}
