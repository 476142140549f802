package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductAge;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.units.UnitSystem;

/** Plans with liquid chlorine that has stood. */
class AgedChlorineTests {

	private static final double GALLONS = 15_000;

	@Test
	void olderChlorineIsDosedInProportionToWhatIsLeft() {
		Product fresh = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125);
		Product old = fresh.aged(40, StorageTemperature.SHADE);
		Step freshStep = chlorineStep(fresh);
		Step oldStep = chlorineStep(old);
		double litres = Objects.requireNonNull(Pools.plaster(GALLONS).volume()).litres();
		double freshPpm = ProductEffects.concentration(fresh, Objects.requireNonNull(freshStep.unroundedAmount()), litres);
		double oldPpm = ProductEffects.concentration(old, Objects.requireNonNull(oldStep.unroundedAmount()), litres);
		assertThat(oldPpm).isCloseTo(freshPpm, within(1e-6));
		assertThat(Objects.requireNonNull(oldStep.unroundedAmount()))
			.isGreaterThan(1.1 * Objects.requireNonNull(freshStep.unroundedAmount()));
		assertThat(codes(freshStep.instructions())).doesNotContain("strength.aged");
	}

	/** Whatever the pool: a dose of aged chlorine says what it counts, and one too old says so; no other dose does. */
	@Test
	void planSaysWhatAgedChlorineCounts() {
		Random random = new Random(12);
		int aged = 0;
		int tooOld = 0;
		for (int i = 0; i < Draws.COUNT; i++) {
			StorageTemperature storage = StorageTemperature.values()[random.nextInt(3)];
			PlanRequest request = Pools.aged(Pools.random(random), random.nextInt(90), storage);
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			for (Step step : plan.steps()) {
				ProductAge age = step.product().age();
				assertThat(codes(step.instructions()).contains("strength.aged")).isEqualTo(age != null);
				boolean old = age != null && age.tooOld(Objects.requireNonNull(step.product().strength()));
				assertThat(codes(step.cautions()).contains(
						(request.pool().sanitizer() == Sanitizer.BROMINE) ? "caution.chlorine-old-bromine" : "caution.chlorine-old"))
					.isEqualTo(old);
				aged += (age != null) ? 1 : 0;
				tooOld += old ? 1 : 0;
			}
		}
		assertThat(aged).isGreaterThan(Draws.COUNT / 20);
		assertThat(tooOld).isGreaterThan(Draws.COUNT / 100);
	}

	private static Step chlorineStep(Product product) {
		PlanRequest request = new PlanRequest(Pools.plaster(GALLONS), Pools.balanced().fc(0.5).build(), Situation.ROUTINE, List.of(product),
				TreatmentPolicy.defaults(), 7, UnitSystem.US);
		return ((Plan) Planner.plan(request)).steps().stream().filter(step -> step.product().id().equals(product.id())).findFirst()
			.orElseThrow();
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

}
