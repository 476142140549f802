package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** What one visit does and costs where a dose is more than one addition may be; on drawn waters. */
class OneVisitTests {

	private static final int WATERS = 200;

	private static final double GALLON = 3785.411784;

	private static final List<Product> TRUCK = List.of(
			Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125).withPrice(GALLON, 500L),
			Product.usual("acid", ProductKind.MURIATIC_3145).withPrice(GALLON, 800L),
			Product.usual("bicarbonate", ProductKind.BICARB).withPrice(453.59237, 100L),
			Product.usual("calcium", ProductKind.CAL_CHLORIDE_77).withPrice(453.59237, 110L));

	private static Plan plan(double ph, double ta, double ch, double fc) {
		return (Plan) Planner.plan(new PlanRequest(Pools.plaster(15_000), Pools.balanced().ph(ph).ta(ta).ch(ch).fc(fc).build(),
				Situation.ROUTINE, TRUCK, TreatmentPolicy.defaults(), 7, UnitSystem.METRIC));
	}

	/** The label holds one addition, not the visit: common practice, no source. */
	@Test
	void acidBringsHighPhBackOnOneVisit() {
		Random random = new Random(20261127);
		int twice = 0;
		for (int n = 0; n < WATERS; n++) {
			double ph = Math.round(10 * (8.2 + 0.4 * random.nextDouble())) / 10.0;
			Plan plan = plan(ph, 100 + 10 * random.nextInt(10), 250 + 10 * random.nextInt(15), 0.5 * random.nextInt(8));
			List<Step> acid = plan.steps().stream().filter(step -> step.purpose() == Step.Purpose.LOWER_PH).toList();
			assertThat(acid).isNotEmpty().hasSizeLessThanOrEqualTo(2);
			assertThat(plan.after().value(Level.PH)).as("from pH %.1f, %s", ph, acid).isLessThanOrEqualTo(7.85);
			if (acid.size() == 2) {
				twice++;
				assertThat(acid.get(1).startMinutes()).isGreaterThanOrEqualTo(acid.get(0).startMinutes() + acid.get(0).gapMinutes());
				assertThat(acid.get(1).instructions()).anyMatch(how -> how.code().equals("apply.second-acid"));
			}
		}
		assertThat(twice).isGreaterThan(WATERS / 10);
	}

	@Test
	void costOfTodayIsThatOfTheStepsOfToday() {
		Random random = new Random(7);
		int later = 0;
		for (int n = 0; n < WATERS; n++) {
			Plan plan = plan(7.2 + 0.1 * random.nextInt(8), 30 + 10 * random.nextInt(10), 50 + 10 * random.nextInt(25), random.nextInt(5));
			double steps = plan.steps().stream().mapToDouble(step -> PriceList.cost(step.product(), step.amount().amount())).sum();
			assertThat(plan.cost().productCost()).isCloseTo(steps, within(1e-6));
			later += (plan.cost().laterCost() > 0) ? 1 : 0;
		}
		assertThat(later).isGreaterThan(WATERS / 10);
	}

	/** Nobody leaves a closed pool for a week for want of a product. */
	@Test
	void whatIsNotAlongForAClosedPoolIsBroughtWithinADay() {
		Random random = new Random(11);
		List<Product> none = TRUCK.stream().map(product -> product.withOnTruck(false)).toList();
		for (int n = 0; n < WATERS; n++) {
			double fc = 0.5 * random.nextInt(8);
			double ph = (72 + random.nextInt(12)) / 10.0;
			Plan plan = (Plan) Planner
				.plan(new PlanRequest(Pools.plaster(15_000), Pools.balanced().ph(ph).fc(fc).build(), Situation.ROUTINE,
						none, TreatmentPolicy.defaults(), 7, UnitSystem.METRIC));
			boolean closed = fc < 2 - 1e-9 || ph > 7.8 + 1e-9;
			assertThat(plan.followUps().stream().anyMatch(later -> later.reason().code().equals("later.bring") && later.afterHours() <= 24))
				.as("FC %.1f, pH %.1f", fc, ph)
				.isEqualTo(closed);
		}
	}

	@Test
	void stabilizerWaitsUntilTheDrainIsSeen() {
		Random random = new Random(13);
		int later = 0;
		for (int n = 0; n < WATERS; n++) {
			Plan plan = (Plan) Planner.plan(new PlanRequest(Pools.plaster(15_000),
					Pools.balanced().cya(5.0 * random.nextInt(6)).fc(0.5 * random.nextInt(8)).drainVisible(false).build(),
					Situation.OPENING,
					Pools.truck(), TreatmentPolicy.defaults(), 7, UnitSystem.METRIC));
			assertThat(plan.steps()).noneMatch(step -> step.purpose() == Step.Purpose.RAISE_CYA);
			later += plan.followUps().stream().anyMatch(step -> step.reason().code().equals("later.stabilizer-when-clear")) ? 1 : 0;
		}
		assertThat(later).isGreaterThan(WATERS / 10);
	}

}
