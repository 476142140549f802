package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;

import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.SwimReadiness.State;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.RecordedDose;

/** A plan done to the letter leaves the pool open or closed as the plan had said. */
class SwimAgreementTests {

	private static final int DRAWN = 80;

	/** In these nobody goes in before whoever treats the water has looked again, whatever was measured. */
	private static final Set<Situation> CLOSED = EnumSet.of(Situation.GREEN_ALGAE_LIGHT, Situation.GREEN_ALGAE_HEAVY,
			Situation.MUSTARD_ALGAE, Situation.BLACK_ALGAE, Situation.PINK_SLIME, Situation.HIGH_COMBINED_CHLORINE, Situation.NEW_PLASTER,
			Situation.STAINS_IRON, Situation.STAINS_MANGANESE, Situation.OPENING, Situation.CLOSING, Situation.PUMP_OFF,
			Situation.CONTAMINATION, Situation.DIARRHOEA, Situation.BLOOD, Situation.DEAD_ANIMAL, Situation.FLOOD);

	private static final List<PlanRequest> REFILLED = new ArrayList<>();

	@ParameterizedTest
	@EnumSource(Situation.class)
	void visitThatFollowsThePlanIsAsOpenOrClosedAsThePlanSaid(Situation situation) {
		Random random = new Random(situation.ordinal());
		Set<State> seen = EnumSet.noneOf(State.class);
		for (int n = 0; n < DRAWN; n++) {
			PlanRequest request = with(Pools.random(random), situation);
			SwimReadiness planned = Planner.plan(request).swim();
			SwimReadiness recorded = recorded(request, Planner.plan(request));
			assertThat(recorded.state()).as("%s %s", n, request).isEqualTo(planned.state());
			assertThat(codes(recorded.closedUntil())).as("%s %s", n, request).isEqualTo(codes(planned.closedUntil()));
			if (Planner.plan(request) instanceof Plan plan && plan.replacement() != null && request.pool().body() == BodyOfWater.SPA) {
				assertThat(codes(planned.closedUntil())).as("of water that goes nobody asks").doesNotContain("swim.fc");
				REFILLED.add(request);
			}
			if (CLOSED.contains(situation)) {
				assertThat(planned.state()).isEqualTo(State.CLOSED);
				assertThat(planned.needsTreatment()).isTrue();
			}
			seen.add(planned.state());
		}
		if (!CLOSED.contains(situation)) {
			assertThat(seen).as("drawn wide enough to tell states apart").contains(State.AFTER_WAIT, State.CLOSED);
		}
	}

	@AfterAll
	static void waterOfSpasWasReplaced() {
		assertThat(REFILLED).isNotEmpty();
	}

	@Test
	void readingThatNoTestShowsClosesThePool() {
		PlanRequest request = Pools.request(Pools.plaster(15_000), Pools.balanced().ph(19.0).build(), Situation.ROUTINE);
		PlanResult refused = Planner.plan(request);
		assertThat(refused).isInstanceOf(PlanRefusal.class);
		assertThat(codes(refused.swim().closedUntil())).containsExactly("swim.fc", "swim.ph");
	}

	/** 104 °F is 40 °C: CPSC and the model code, table of Montana ARM 37.115.1308. */
	@Test
	void spaAbove40DegreesIsClosedAndItsHeaterTurnedDownInPlanAndVisit() {
		Random random = new Random(40);
		int hot = 0;
		for (int n = 0; n < 30 * DRAWN; n++) {
			PlanRequest drawn = Pools.random(random);
			double celsius = 37 + random.nextInt(7);
			if (drawn.pool().body() != BodyOfWater.SPA || CLOSED.contains(drawn.situation())) {
				continue;
			}
			PlanRequest request = reading(drawn, drawn.readings().toBuilder().celsius(celsius).build());
			PlanResult outcome = Planner.plan(request);
			assertThat(codes(outcome.swim().closedUntil()).contains("swim.spa-hot")).as("%s", request).isEqualTo(celsius > 40);
			assertThat(codes(recorded(request, outcome).closedUntil()).contains("swim.spa-hot")).isEqualTo(celsius > 40);
			if (outcome instanceof Plan plan) {
				assertThat(codes(plan.tasks()).contains("work.spa-heater")).isEqualTo(celsius > 40);
				hot += (celsius > 40) ? 1 : 0;
			}
		}
		assertThat(hot).isGreaterThan(20);
	}

	@Test
	void phOffItsScaleClosesUntilATestOnTheScale() {
		Random random = new Random(41);
		int planned = 0;
		for (int n = 0; n < 5 * DRAWN; n++) {
			PlanRequest drawn = Pools.random(random);
			boolean low = random.nextBoolean();
			PlanRequest request = reading(drawn, drawn.readings()
				.toBuilder()
				.ph(low ? 6.8 : 8.4, low ? ReadingQualifier.BELOW : ReadingQualifier.ABOVE)
				.build());
			PlanResult outcome = Planner.plan(request);
			if (drawn.situation() != Situation.CLOSING) {
				assertThat(codes(outcome.swim().closedUntil())).as("%s", request).contains("swim.ph-scale");
				assertThat(codes(recorded(request, outcome).closedUntil())).contains("swim.ph-scale");
			}
			if (outcome instanceof Plan plan) {
				assertThat(plan.followUps()).anySatisfy(later -> {
					assertThat(later.reason().code()).isEqualTo("later.ph-scale");
					assertThat(later.afterHours()).isLessThanOrEqualTo(24);
				});
				planned++;
			}
		}
		assertThat(planned).isGreaterThan(100);
	}

	@Test
	void unseenDrainAsksForItsCauseOnAnOrdinaryVisit() {
		Random random = new Random(64);
		for (int n = 0; n < 2 * DRAWN; n++) {
			PlanRequest drawn = Pools.random(random);
			boolean seen = random.nextBoolean();
			PlanRequest request = with(reading(drawn, drawn.readings().toBuilder().drainVisible(seen).build()), Situation.ROUTINE);
			if (Planner.plan(request) instanceof Plan plan) {
				assertThat(codes(plan.tasks()).containsAll(List.of("work.drain-cause", "work.filter-24h"))).isEqualTo(!seen);
				assertThat(plan.followUps().stream().anyMatch(later -> later.reason().code().equals("later.test-all")
						|| later.reason().code().equals("later.test-refilled")))
					.isEqualTo(!seen || plan.replacement() != null);
			}
		}
	}

	private static PlanRequest reading(PlanRequest drawn, Readings readings) {
		return new PlanRequest(drawn.pool(), readings, drawn.situation(), drawn.products(), drawn.policy(), drawn.daysToNextVisit(),
				drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
	}

	private static PlanRequest with(PlanRequest drawn, Situation situation) {
		return new PlanRequest(drawn.pool(), drawn.readings(), situation, drawn.products(), drawn.policy(), drawn.daysToNextVisit(),
				drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
	}

	private static SwimReadiness recorded(PlanRequest request, PlanResult outcome) {
		List<RecordedDose> doses = new ArrayList<>();
		Double replaced = null;
		if (outcome instanceof Plan plan) {
			// A spa is emptied first.
			replaced = plan.replacement() != null && request.pool().body() == BodyOfWater.SPA ? plan.replacement().share() : null;
			for (Step step : plan.steps()) {
				double amount = (step.amount() != null) ? step.amount().amount() : 1;
				doses.add(new RecordedDose(step.product().kind(), step.product().strength(), step.product().basis(), amount));
			}
		}
		return SwimReadiness.of(request.pool(), request.effectiveReadings(), request.situation(), request.policy(), replaced, doses);
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

}
