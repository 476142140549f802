package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.units.UnitSystem;

/** What is offered where chlorine does not last passes the rules of products and goes one way with the work. Common practice, no source. */
class OffersTests {

	@Test
	void offersKeepToTheRulesOfProductsAndToTheWork() {
		Random random = new Random(17);
		Map<Level, Integer> seen = new EnumMap<>(Level.class);
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest request = Pools.random(random);
			if (!(Planner.plan(request) instanceof Plan plan) || plan.outcome().suggestions().isEmpty()) {
				continue;
			}
			List<String> offers = codes(plan.outcome().suggestions());
			List<String> work = codes(plan.tasks());
			PoolFacts pool = request.pool();
			if (offers.contains("offer.tablets") || offers.contains("offer.feeder") || offers.contains("offer.feeder-times")) {
				seen.merge(Level.CYA, 1, Integer::sum);
				assertThat(Contraindications.of(request, plan.assessment()).reasonAgainst(ActiveIngredient.TRICHLOR)).isNull();
				assertThat(pool.indoor() || pool.body() == BodyOfWater.SPA).isFalse();
				assertThat(pool.sanitizer() != Sanitizer.TABLET_FEEDER && (pool.surface().lined() || pool.surface() == Surface.FIBREGLASS
						|| pool.surface() == Surface.PAINTED))
					.isFalse();
				assertThat(request.readings().ph()).isGreaterThanOrEqualTo(7.2 - 1e-9);
				assertThat(work).doesNotContain("work.stop-feed", "work.chlorine-falls", "work.change-sanitizer");
			}
			if (offers.contains("offer.cell") || offers.contains("offer.cell-times")) {
				seen.merge(Level.FC, 1, Integer::sum);
				assertThat(work).doesNotContain("work.stop-feed", "work.chlorine-falls", "work.heater-off");
				assertThat(codes(Pools.notes(plan))).doesNotContain("note.fc-too-high");
				assertThat(request.readings().celsius()).isGreaterThan(15.5);
			}
			if (offers.contains("offer.cover")) {
				seen.merge(Level.TEMPERATURE, 1, Integer::sum);
				assertThat(work).doesNotContain("work.cover-off");
			}
			if (offers.contains("offer.stabilizer")) {
				assertThat(plan.steps()).noneMatch(step -> step.purpose() == Step.Purpose.RAISE_CYA);
			}
			assertThat(plan.first()).containsAll(plan.outcome().suggestions());
		}
		assertThat(seen).containsKeys(Level.CYA, Level.FC, Level.TEMPERATURE);
	}

	/** A week is counted where nobody knows, and the plan is the one of a week. */
	@Test
	void unknownNextVisitCountsAsAWeekAndSaysSo() {
		Random random = new Random(18);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			PlanRequest drawn = Pools.random(random);
			PlanRequest unknown = days(drawn, 0);
			if (!(Planner.plan(unknown) instanceof Plan plan) || !(Planner.plan(days(drawn, 7)) instanceof Plan week)) {
				continue;
			}
			assertThat(plan.steps()).isEqualTo(week.steps());
			// It is a pool kept on chlorine or bromine: no others are drawn.
			assertThat(codes(plan.first())).contains("note.next-visit-unknown");
			assertThat(codes(week.first())).doesNotContain("note.next-visit-unknown");
		}
	}

	/** The panel of a cell shows percent or hours: what it shows now, times this. */
	@Test
	void cellIsRaisedInTheUnitsOfItsPanel() {
		PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		PlanRequest request = new PlanRequest(pool, Pools.balanced().fc(4.0).cya(70.0).salt(3200.0).build(), Situation.ROUTINE,
				Pools.truck(), TreatmentPolicy.defaults(), 7, UnitSystem.US);
		Plan plan = (Plan) Planner.plan(request);
		Reason cell = plan.first().stream().filter(reason -> reason.code().equals("offer.cell-times")).findFirst().orElseThrow();
		double times = ((Term.Number) cell.args().get(0)).value();
		double own = request.forecast().demand().supply();
		double more = ((Term.Value) cell.args().get(2)).value();
		assertThat(times).isEqualTo((own + more) / own);
		assertThat(times).isGreaterThan(1);
	}

	private static PlanRequest days(PlanRequest drawn, int days) {
		return new PlanRequest(drawn.pool(), drawn.readings(), drawn.situation(), drawn.products(), drawn.policy(), days,
				drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

}
