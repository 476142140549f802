package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;

/** Trade table {@code situations.csv}, rows vinyl and new plaster: dissolved dichlor; elsewhere common practice, no source. */
class GrainsTests {

	@Test
	void dichlorIsDissolvedWhereGrainsMarkAndBroadcastElsewhere() {
		Random random = new Random(41);
		int dissolved = 0;
		int broadcast = 0;
		for (int n = 0; n < Draws.COUNT; n++) {
			PlanRequest request = Pools.random(random);
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			boolean marks = !request.pool().surface().cementBound() || request.pool().surface() == Surface.PAINTED
					|| request.pool().body() == BodyOfWater.SPA || request.situation() == Situation.NEW_PLASTER;
			for (Step step : plan.steps()) {
				if (step.product().kind().ingredient() == ActiveIngredient.DICHLOR) {
					assertThat(step.instructions()).extracting(reason -> reason.code())
						.contains(!marks ? "apply.broadcast-dry"
								: (request.pool().body() == BodyOfWater.SPA) ? "apply.pre-dissolve-spa" : "apply.pre-dissolve")
						.doesNotContain(marks ? "apply.broadcast-dry" : "apply.pre-dissolve");
					dissolved += marks ? 1 : 0;
					broadcast += marks ? 0 : 1;
				}
			}
		}
		assertThat(dissolved).isPositive();
		assertThat(broadcast).isPositive();
	}

}
