package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;

/** What is needed but not along. */
class MissingProductTests {

	/** 83 lb of salt bring 1000 ppm to 10,000 gal: row salt_low of the trade table situations.csv. */
	@Test
	void saltIsWorkedOutAlthoughNoneIsAlong() {
		PoolFacts pool = Pools.of(10_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		Plan plan = plan(pool, Pools.balanced().salt(2000.0), List.of());
		Plan.MissingProduct salt = missing(plan, Step.Purpose.RAISE_SALT);
		assertThat(salt.product().kind()).isEqualTo(ProductKind.SALT);
		assertThat(salt.amount().amount() / Mass.GRAMS_PER_POUND).isCloseTo(83 * 1.2, within(2.0));
	}

	@Test
	void theCompanysOwnProductIsNamedWhereItHasOne() {
		Product own = Product.usual("own", ProductKind.LIQUID_CHLORINE_10).withOnTruck(false);
		Plan plan = plan(Pools.plaster(10_000), Pools.balanced().fc(0.5), List.of(own));
		assertThat(missing(plan, Step.Purpose.RAISE_FC).product()).isEqualTo(own);
	}

	/** To be brought is at least what a full truck would dose first, over drawn waters. */
	@Test
	void whatAFullTruckDosesFirstIsMissingFromAnEmptyOne() {
		Random random = new Random(11);
		int compared = 0;
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest request = Pools.random(random);
			if (!(Planner.plan(with(request, Pools.truck())) instanceof Plan full) || full.steps().isEmpty()) {
				continue;
			}
			Plan empty = (Plan) Planner.plan(with(request, List.of()));
			assertThat(empty.steps()).isEmpty();
			Step first = full.steps().get(0);
			if (first.purpose() == Step.Purpose.OXIDIZE) {
				// Superchlorination stands in for oxidizer that is not along, and may be there already.
				continue;
			}
			// How far the others go depends on what goes in beside them, and stabilizer beside chlorine asks for more of it.
			if (first.purpose() == Step.Purpose.RAISE_FC
					&& full.steps().stream().noneMatch(step -> step.purpose() == Step.Purpose.RAISE_CYA)
					&& empty.missing().stream().anyMatch(missing -> missing.product().kind() == first.product().kind())) {
				assertThat(missing(empty, first.purpose()).amount().amount())
					.isGreaterThanOrEqualTo(first.amount().amount() - 1e-9);
				compared++;
			}
			else {
				// Tablets are not asked for: what is poured instead is.
				assertThat(empty.missing()).as("%s %s", request.situation(), request.readings()).isNotEmpty();
			}
		}
		assertThat(compared).isGreaterThan(Draws.COUNT / 10);
	}

	/** Chlorine of today may take pH out of range that was in it when tested. */
	@Test
	void poolThatStaysClosedForItsPhSaysWhenWhatIsMissingComes() {
		Random random = new Random(53);
		int inRange = 0;
		for (int i = 0; i < 2 * Draws.COUNT; i++) {
			PlanRequest request = Pools.random(random);
			if (!(Planner.plan(request) instanceof Plan plan)
					|| plan.swim().closedUntil().stream().noneMatch(reason -> reason.code().equals("swim.ph"))) {
				continue;
			}
			for (Plan.MissingProduct missing : plan.missing()) {
				if (missing.purpose() == Step.Purpose.LOWER_PH || missing.purpose() == Step.Purpose.RAISE_PH) {
					assertThat(plan.followUps()).anySatisfy(later -> {
						assertThat(later.reason().code()).isEqualTo("later.bring");
						assertThat(later.product()).isEqualTo(missing.product());
					});
					Double ph = request.readings().ph();
					inRange += (ph != null && ph >= 7.2 && ph <= 7.8) ? 1 : 0;
				}
			}
		}
		assertThat(inRange).isPositive();
	}

	private static PlanRequest with(PlanRequest request, List<Product> products) {
		// What answers combined chlorine depends on what is along.
		return new PlanRequest(request.pool(), request.readings().toBuilder().cc(null).tc(null).build(), Situation.ROUTINE,
				new ArrayList<>(products), request.policy(),
				request.daysToNextVisit(), null, request.units(), request.lastKnown(), request.forecast());
	}

	private static Plan plan(PoolFacts pool, Readings.Builder readings, List<Product> products) {
		return (Plan) Planner.plan(new PlanRequest(pool, readings.build(), Situation.ROUTINE, products, TreatmentPolicy.defaults(), 0,
				UnitSystem.US));
	}

	private static Plan.MissingProduct missing(Plan plan, Step.Purpose purpose) {
		return plan.missing().stream().filter(missing -> missing.purpose() == purpose).findFirst().orElseThrow();
	}

}
