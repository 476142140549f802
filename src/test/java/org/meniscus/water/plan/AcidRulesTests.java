package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;

/** What a plan says of acid that it gives or holds back. */
class AcidRulesTests {

	/** Nothing is to be raised first in a plan that raises nothing, and two equal figures are no reason. */
	@Test
	void whatIsSaidOfAcidIsTrueOfThePlan() {
		Random random = new Random(203);
		int held = 0;
		int given = 0;
		for (int n = 0; n < 2 * Draws.COUNT; n++) {
			PlanRequest request = Pools.random(random);
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			List<String> notes = Pools.notes(plan).stream().map(Reason::code).toList();
			if (notes.contains("note.acid-after-alkalinity")) {
				held++;
				assertThat(plan.steps()).as(request.toString())
					.anyMatch(step -> step.purpose() == Step.Purpose.RAISE_TA || step.purpose() == Step.Purpose.RAISE_CH);
			}
			if (notes.contains("note.acid-after-alkalinity") || notes.contains("note.acid-held")) {
				assertThat(plan.steps()).as(request.toString()).noneMatch(step -> step.purpose() == Step.Purpose.LOWER_PH);
			}
			for (Step step : plan.steps()) {
				if (step.reason().code().equals("why.ph-high")) {
					given++;
					assertThat(figure(step.reason(), 0)).as(request.toString()).isGreaterThan(figure(step.reason(), 1));
				}
			}
		}
		assertThat(held).isPositive();
		assertThat(given).isPositive();
	}

	/** On the scale of a test, tenths. */
	private static long figure(Reason reason, int term) {
		return Math.round(10 * ((Term.Value) reason.args().get(term)).value());
	}

}
