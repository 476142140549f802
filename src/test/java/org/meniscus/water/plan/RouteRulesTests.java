package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ProductKind;

/** What somebody who has kept pools for years looks for in a plan: what it says goes with this pool and with what it does. */
class RouteRulesTests {

	private static final Set<Step.Purpose> BALANCING = Set.of(Step.Purpose.OXIDIZE, Step.Purpose.RAISE_CYA, Step.Purpose.RAISE_TA,
			Step.Purpose.RAISE_CH);

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

	private static List<String> later(Plan plan) {
		return plan.followUps().stream().map(step -> step.reason().code()).toList();
	}

	private static Stream<PlanRequest> drawn(int seed, int share) {
		Random random = new Random(seed);
		return Stream.generate(() -> Pools.random(random)).limit(Draws.COUNT / share);
	}

	private static boolean goesIn(Plan plan, Step.Purpose purpose) {
		return plan.steps().stream().anyMatch(step -> step.purpose() == purpose);
	}

	/** "The rest" of a product is put off only where some of it went in. */
	@Test
	void theRestFollowsAPart() {
		int waits = 0;
		for (PlanRequest request : drawn(71, 1).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				plan.followUps()
					.stream()
					.filter(step -> step.reason().code().equals("later.rest-of-balance"))
					.forEach(step -> assertThat(plan.steps()).as(request.toString())
						.anyMatch(today -> today.product().equals(step.product())));
				if (codes(Pools.notes(plan)).contains("note.balance-another-day")) {
					assertThat(BALANCING).noneMatch(purpose -> goesIn(plan, purpose));
					waits++;
				}
			}
		}
		assertThat(waits).isPositive();
	}

	/** Chlorine that a cell or feeder brought was nobody's mistake, and tablets eat alkalinity only where there are some. */
	@Test
	void whatIsSaidFitsWhatFeedsThePool() {
		for (PlanRequest request : drawn(72, 1).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				boolean fed = request.pool().sanitizer() != Sanitizer.CHLORINE_BY_HAND;
				List<String> work = codes(plan.tasks());
				assertThat(work.contains("work.who-added") && fed).as(request.toString()).isFalse();
				if (!request.pool().sanitizer().usesTablets()) {
					assertThat(codes(plan.cautions())).as(request.toString()).doesNotContain("not.more-tablets", "not.stabilized-by-hand");
				}
				if (codes(plan.cautions()).contains("not.stabilized-by-hand")) {
					assertThat(work).as("the feeder runs on").doesNotContain("work.feeder-empty", "work.floater-empty",
							"work.tablets-out-ta");
				}
			}
		}
	}

	/** A spa is wiped, not brushed, and nothing is poured around it. */
	@Test
	void aSpaIsNoPool() {
		for (PlanRequest request : drawn(73, 1).filter(request -> request.pool().body() == BodyOfWater.SPA).toList()) {
			PlanResult result = Planner.plan(request);
			List<Reason> work = (result instanceof Plan plan) ? plan.tasks() : ((PlanResult.PlanRefusal) result).tasks();
			assertThat(codes(work)).as(request.toString()).doesNotContain("work.clean", "work.brush");
			if (result instanceof Plan plan) {
				plan.steps().forEach(step -> assertThat(codes(step.instructions())).doesNotContain("apply.pre-dissolve"));
			}
		}
	}

	/** On vinyl, fiberglass and paint no tablet in a floater: surface table of the trade facts, 1.5. The plan says what to do with it. */
	@Test
	void aFloaterStaysOutWhereTabletsMarkTheSurface() {
		for (PlanRequest request : drawn(74, 1).filter(request -> request.pool().sanitizer() == Sanitizer.FLOATER).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				boolean marks = ProductKind.TRICHLOR_TAB.avoid().contains(request.pool().surface());
				assertThat(codes(plan.tasks()).contains("work.floater-surface")).as(request.toString()).isEqualTo(marks);
				assertThat(marks && goesIn(plan, Step.Purpose.FEED)).isFalse();
			}
		}
	}

	/** Under a liner, in fiberglass, and in heat on plaster no more than a third of the water goes at once. */
	@Test
	void largeDrainsGoInPartsWhereTheShellSuffers() {
		Random random = new Random(75);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			Surface surface = Surface.values()[random.nextInt(Surface.values().length)];
			double celsius = 18 + 16 * random.nextDouble();
			Readings.Builder water = Pools.balanced().cya(Pools.round(60 + 140 * random.nextDouble(), 5)).celsius(celsius);
			Plan plan = Pools.plan(Pools.of(15_000, BodyOfWater.POOL, surface, false, Sanitizer.CHLORINE_BY_HAND), water,
					Situation.ROUTINE);
			WaterReplacement replacement = plan.replacement();
			if (replacement == null) {
				continue;
			}
			boolean suffers = !surface.cementBound() || celsius >= (85 - 32) / 1.8;
			assertThat(replacement.inParts()).as("%s %.1f %.2f", surface, celsius, replacement.share())
				.isEqualTo(suffers && replacement.share() > 1.0 / 3 + 1e-9);
			if (replacement.inParts()) {
				assertThat(replacement.firstShare()).isLessThanOrEqualTo(1.0 / 3);
				assertThat(later(plan).stream().filter("later.drain-part"::equals)).hasSize(replacement.drainCount() - 1);
			}
		}
	}

	/** Warm water uses up more than cold, bare sun more than shaded water: nothing else is known of a new pool. */
	@Test
	void whatANewPoolUsesFollowsTemperatureAndStabilizer() {
		Random random = new Random(76);
		for (int n = 0; n < Draws.COUNT / 20; n++) {
			double cya = 10 + 60 * random.nextDouble();
			double cold = use(12.0 + 4 * random.nextDouble(), cya);
			double warm = use(27.0 + 5 * random.nextDouble(), cya);
			assertThat(warm).as("CYA %.0f", cya).isGreaterThan(1.5 * cold);
			assertThat(use(28.0, 0)).isGreaterThan(2 * use(28.0, cya + 15));
		}
	}

	private static double use(double celsius, double cya) {
		return Pools.request(Pools.plaster(15_000), Pools.balanced().celsius(celsius).cya(cya).build(), Situation.ROUTINE)
			.forecast()
			.demand()
			.use(3)
			.middle();
	}

}
