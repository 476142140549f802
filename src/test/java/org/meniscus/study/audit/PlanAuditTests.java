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

/** Plans of drawn pools and waters pass every check. */
class PlanAuditTests {

	/** Not fewer in the fast lane: a check that stands at zero is no sample. */
	private static final int WATERS = Math.max(2_000, Draws.COUNT);

	private static PlanAudit audit;

	@BeforeAll
	static void draw() {
		audit = PlanAudit.run(WATERS, 20261127, 1);
	}

	@ParameterizedTest
	@EnumSource
	void noPlanFails(AuditCheck check) {
		assertThat(audit.plans()).isGreaterThan(WATERS / 2);
		assertThat(audit.count(check)).as("%s%n%s", check.text(), String.join("\n", audit.examples(check))).isZero();
	}

	/** A renamed code would make a check pass because nothing says it any more. */
	@Test
	void codesThatTheChecksGoByStillStandInTheMessages() {
		Set<String> codes = new TreeSet<>(AuditWords.CODES);
		codes.addAll(AuditWords.cautions());
		codes.addAll(AuditEquipment.CODES);
		assertThat(codes).hasSizeGreaterThan(40)
			.allSatisfy(code -> assertThat(ResourceBundle.getBundle("messages.water", Locale.ROOT).containsKey("water." + code)).as(code)
				.isTrue());
	}

}
