package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;

/** How products are handled at the pool, over drawn waters. */
class HandlingTests {

	/** Labels forbid any blend of them (labels of generic dry chlorine, US EPA 550-F-01-003); of bromine tablets from memory. */
	private static final Set<ActiveIngredient> OXIDIZERS = EnumSet.of(ActiveIngredient.CALCIUM_HYPOCHLORITE,
			ActiveIngredient.SODIUM_HYPOCHLORITE, ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR, ActiveIngredient.MONOPERSULFATE,
			ActiveIngredient.BROMINE_TABLETS);

	private static PlanRequest with(PlanRequest drawn, Situation situation) {
		return new PlanRequest(drawn.pool(), drawn.readings(), situation, drawn.products(), drawn.policy(), drawn.daysToNextVisit(),
				drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
	}

	@Test
	void everyOxidizerOfTruckAndPoolIsNamedBesideAnother() {
		Random random = new Random(71);
		int named = 0;
		for (int n = 0; n < Draws.COUNT / 2; n++) {
			PlanRequest request = Pools.random(random);
			Sanitizer sanitizer = request.pool().sanitizer();
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			for (Step step : plan.steps()) {
				ActiveIngredient ingredient = step.product().kind().ingredient();
				if (!OXIDIZERS.contains(ingredient)) {
					continue;
				}
				Set<ActiveIngredient> others = EnumSet.noneOf(ActiveIngredient.class);
				request.products().stream().filter(Product::onTruck).forEach(product -> others.add(product.kind().ingredient()));
				if (sanitizer == Sanitizer.BROMINE) {
					others.add(ActiveIngredient.BROMINE_TABLETS);
				}
				else if (sanitizer.usesTablets()) {
					others.add(ActiveIngredient.TRICHLOR);
				}
				others.retainAll(OXIDIZERS);
				others.remove(ingredient);
				assertThat(keys(step)).as("%s beside %s", ingredient, others)
					.containsAll(others.stream().map(Wording::ingredientKey).toList())
					.doesNotContain(Wording.ingredientKey(ingredient))
					.doesNotHaveDuplicates();
				named++;
			}
		}
		assertThat(named).isGreaterThan(Draws.COUNT / 10);
	}

	/** What must never meet it, as message keys. */
	private static List<String> keys(Step step) {
		return step.cautions()
			.stream()
			.filter(reason -> reason.code().equals("caution.never-with"))
			.flatMap(reason -> ((Term.Words) reason.args().get(0)).keys().stream())
			.toList();
	}

	@Test
	void acidGoesOntoNewPlasterDilutedOnlyAndNothingToTheDeepEndOfASpa() {
		Random random = new Random(73);
		int acids = 0;
		int spas = 0;
		for (int n = 0; n < Draws.COUNT; n++) {
			Situation situation = (n % 2 == 0) ? Situation.NEW_PLASTER : Situation.ROUTINE;
			PlanRequest request = with(Pools.random(random), situation);
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			boolean spa = request.pool().body() == BodyOfWater.SPA;
			for (Step step : plan.steps()) {
				List<String> codes = step.instructions().stream().map(Reason::code).toList();
				if (spa) {
					spas++;
					assertThat(codes).doesNotContain("apply.pour-at-return", "apply.broadcast", "apply.broadcast-dry", "apply.dissolve",
							"apply.pour-diluted", "apply.acid-diluted");
				}
				else if (situation == Situation.NEW_PLASTER && step.product().kind().ingredient().acid()) {
					acids++;
					assertThat(codes).contains("apply.acid-diluted").doesNotContain("apply.pour-diluted");
				}
			}
		}
		assertThat(acids).isGreaterThan(Draws.COUNT / 50);
		assertThat(spas).isGreaterThan(Draws.COUNT / 50);
	}

}
