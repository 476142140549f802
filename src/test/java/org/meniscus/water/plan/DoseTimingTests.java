package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;

import java.util.List;
import java.util.Random;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;

/** When chlorine goes in: at once, at dusk or in two pours. */
class DoseTimingTests {

	private static PlanRequest withSwimmers(PlanRequest request, @Nullable Double hours) {
		return new PlanRequest(request.pool(), request.readings(), request.situation(), request.products(), request.policy(),
				request.daysToNextVisit(), hours, request.units(), request.lastKnown(), request.forecast());
	}

	private static List<String> instructions(Plan plan) {
		return plan.steps().stream().flatMap(step -> step.instructions().stream()).map(Reason::code).toList();
	}

	/** A second pour would keep everyone out a second time. */
	@Test
	void chlorineIsNotPartedWhereSwimmersCome() {
		Random random = new Random(201);
		int parted = 0;
		for (int n = 0; n < Draws.COUNT; n++) {
			PlanRequest request = Pools.random(random);
			if (Planner.plan(withSwimmers(request, null)) instanceof Plan alone
					&& instructions(alone).contains("when.now-rest-at-dusk")
					&& Planner.plan(withSwimmers(request, 1 + 8 * random.nextDouble())) instanceof Plan plan) {
				parted++;
				assertThat(instructions(plan)).as(request.toString()).doesNotContain("when.now-rest-at-dusk");
			}
		}
		assertThat(parted).isPositive();
	}

	/** Ammonia takes chlorine in minutes: it goes in whole, and the plan shows what is left of both. */
	@Test
	void chlorineForAmmoniaGoesInWholeAndIsShownAsUsed() {
		Random random = new Random(202);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			double ammonia = 0.5 + 0.25 * random.nextInt(10);
			PoolFacts pool = Pools.of(8000 + 20000 * random.nextDouble(), BodyOfWater.POOL,
					Surface.values()[random.nextInt(3)], false, Sanitizer.CHLORINE_BY_HAND);
			Situation situation = random.nextBoolean() ? Situation.STABILIZER_GONE : Situation.ROUTINE;
			Plan plan = Pools.plan(pool,
					Pools.balanced().fc(0.2 * random.nextInt(6)).cya((double) random.nextInt(30)).trace(Level.AMMONIA, ammonia), situation);
			assertThat(instructions(plan)).doesNotContain("when.now-rest-at-dusk", "when.dusk").contains("when.now-ammonia");
			double fc = plan.after().value(Level.FC, 0);
			assertThat(fc).isCloseTo(plan.outcome().justAfter().get(Level.FC).middle(), offset(1e-9));
			double left = plan.after().value(Level.AMMONIA, 0);
			assertThat(left).isLessThan(ammonia);
			assertThat(Math.min(fc, left)).as("free chlorine %s beside ammonia %s", fc, left).isLessThan(1e-6);
			assertThat(plan.steps().get(plan.steps().size() - 1).after().value(Level.FC, 0)).isEqualTo(fc);
			assertThat(plan.followUps()).noneMatch(step -> step.reason().code().equals("later.overnight"));
		}
	}

}
