package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.ChlorineDemand;
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
				assertThat(Contraindications.of(request, plan.assessment(), null).reasonAgainst(ActiveIngredient.TRICHLOR)).isNull();
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
				if (request.forecast().tablets() == null) {
					coverSuffices(request, plan);
				}
			}
			if (offers.contains("offer.stabilizer")) {
				assertThat(plan.steps()).noneMatch(step -> step.purpose() == Step.Purpose.RAISE_CYA);
			}
			assertThat(plan.first()).containsAll(plan.outcome().suggestions());
		}
		assertThat(seen).containsKeys(Level.CYA, Level.FC, Level.TEMPERATURE);
	}

	/** Under a roof 0.05 a day is lost to sun and decay at most, the rest of the use stays: dFC/dt = -0.05 FC - rest. */
	private static void coverSuffices(PlanRequest request, Plan plan) {
		ChlorineDemand demand = request.forecast().demand();
		int days = plan.outcome().days();
		double rate = Math.min(0.05, demand.firstOrderRate());
		double left = Math.exp(-rate * days);
		double fc = plan.after().value(Level.FC, 0) * left + (demand.supply() - demand.zeroOrderRate()) * (1 - left) / rate;
		assertThat(fc).as("%s", request).isGreaterThanOrEqualTo(plan.assessment().fcToHold() - 0.1);
	}

	/** What the client adds each time is what is used up until then: FC comes back to what it was after the visit. */
	@Test
	void handFedPoolThatDoesNotHoldSaysWhatTheClientAddsAndWhen() {
		Random random = new Random(19);
		int said = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			double fc = Pools.round(3 * random.nextDouble(), 0.1);
			double cya = Pools.round(20 + 50 * random.nextDouble(), 5);
			PlanRequest request = Pools.request(Pools.plaster(15_000), Pools.balanced().fc(fc).cya(cya).build(), Situation.ROUTINE);
			Plan plan = (Plan) Planner.plan(request);
			if (!codes(plan.first()).contains("note.fc-not-held")) {
				continue;
			}
			Reason adds = plan.first().stream().filter(reason -> reason.code().startsWith("offer.client-adds")).findFirst().orElseThrow();
			double after = plan.after().value(Level.FC, 0);
			int each = adds.code().endsWith("-daily") ? 1 : ((Term.Days) adds.args().get(2)).days();
			assertThat(each).isBetween(1, plan.outcome().days() - 1);
			double amount = ((Term.Amount) adds.args().get(0)).amount().amount();
			double used = after - request.forecast().demand().expected(after, each);
			assertThat(amount * 0.125 * 1000 / (15_000 * 3.785411784)).isBetween(0.85 * used, 1.26 * used);
			said++;
		}
		assertThat(said).isPositive();
	}

	/** Its maker's program goes before: row new_plaster of the trade table situations.csv. */
	@Test
	void newPlasterIsOfferedNoTabletsAndNoStabilizer() {
		Random random = new Random(46);
		int others = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest drawn = Pools.random(random);
			PlanRequest request = new PlanRequest(drawn.pool(), drawn.readings().toBuilder().cya(0.0).build(), Situation.NEW_PLASTER,
					drawn.products(), drawn.policy(), drawn.daysToNextVisit(), null, drawn.units());
			if (Planner.plan(request) instanceof Plan plan) {
				List<String> offers = codes(plan.outcome().suggestions());
				assertThat(offers).doesNotContain("offer.tablets", "offer.feeder", "offer.feeder-times", "offer.stabilizer");
				others += offers.size();
			}
		}
		assertThat(others).isPositive();
	}

	/** Trichlor has no place from CYA 80 on: products.csv. */
	@Test
	void tabletsThatHaveNoPlaceAnyMoreAreTakenOut() {
		Random random = new Random(20);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			double cya = Pools.round(80 + 60 * random.nextDouble(), 5);
			for (Sanitizer sanitizer : new Sanitizer[]{ Sanitizer.FLOATER, Sanitizer.TABLET_FEEDER }) {
				PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer);
				Plan plan = Pools.plan(pool, Pools.balanced().fc(Pools.round(4 * random.nextDouble(), 0.1)).cya(cya), Situation.ROUTINE);
				assertThat(codes(plan.tasks())).as("%s, CYA %s", sanitizer, cya)
					.contains((sanitizer == Sanitizer.FLOATER) ? "work.floater-empty" : "work.feeder-empty");
				assertThat(plan.steps()).noneMatch(step -> step.purpose() == Step.Purpose.FEED);
			}
		}
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
