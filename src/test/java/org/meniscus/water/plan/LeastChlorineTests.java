package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** No plan leaves a pool below what protects it for want of less than chlorine, and none waits a visit for a slow pump. */
class LeastChlorineTests {

	private final Random random = new Random(20261128);

	private PlanRequest request(PoolFacts pool, Readings.Builder readings, Situation situation, List<Product> products,
			TreatmentPolicy policy) {
		return new PlanRequest(pool, readings.build(), situation, products, policy, 7, UnitSystem.US);
	}

	private Readings.Builder water(double fc, double cya) {
		return Pools.balanced().fc(tenth(fc)).cya((double) Math.round(cya)).ph(tenth(7.2 + random.nextDouble()));
	}

	private static double tenth(double value) {
		return Math.round(10 * value) / 10.0;
	}

	private static double least(PlanRequest request) {
		return Assessor.fcToReach(request.pool(), request.readings(), request.policy());
	}

	private static List<Product> only(ProductKind... kinds) {
		return Stream.of(kinds).map(kind -> Product.usual(kind.name(), kind)).toList();
	}

	/** Between what doses hold and what protects, where a test may not tell, with whatever chlorine is along. */
	@Test
	void chlorineGoesInBelowWhatProtects() {
		int dosed = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			double cya = 65 + 14 * random.nextDouble();
			List<Product> truck = random.nextBoolean() ? Pools.truck()
					: only(ProductKind.DICHLOR_56, ProductKind.TRICHLOR_TAB, ProductKind.MURIATIC_3145, ProductKind.SODA_ASH);
			PlanRequest request = request(Pools.plaster(8000 + 20_000 * random.nextDouble()), water(3 + random.nextDouble(), cya),
					Situation.ROUTINE, truck, TreatmentPolicy.defaults());
			Plan plan = (Plan) Planner.plan(request);
			assertThat(plan.after().value(Level.FC, 0)).isGreaterThanOrEqualTo(least(request) - 0.1);
			dosed += request.readings().fc() < least(request) ? 1 : 0;
		}
		assertThat(dosed).isPositive();
	}

	/** A label that leaves the pool below it gives way to another product along, or the rest is named. */
	@Test
	void labelThatFallsShortGivesWayOrLeavesARest() {
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			Product weak = Product.usual("weak", ProductKind.LIQUID_CHLORINE_125).withLabelMaxPerM3(8 + 20 * random.nextDouble());
			List<Product> truck = new ArrayList<>(List.of(weak));
			boolean other = random.nextBoolean();
			if (other) {
				truck.add(Product.usual("other", ProductKind.HOUSEHOLD_BLEACH));
			}
			Situation situation = random.nextBoolean() ? Situation.ROUTINE : Situation.CLOSING;
			PlanRequest request = request(Pools.plaster(8000 + 20_000 * random.nextDouble()), water(random.nextDouble(), 60), situation,
					truck, TreatmentPolicy.withCeiling(8));
			Plan plan = (Plan) Planner.plan(request);
			boolean rest = plan.followUps().stream().anyMatch(later -> later.product() != null && later.afterHours() <= 24);
			assertThat(rest && !other || plan.after().value(Level.FC, 0) >= least(request) - 0.1).isTrue();
		}
	}

	/** However slow the pump. */
	@Test
	void chlorineFollowsAcidOnTheSameVisit() {
		int both = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PoolFacts pool = Pools.plaster(15_000);
			double litresPerHour = pool.volume().litres() / (8 + 40 * random.nextDouble());
			PoolFacts slow = pool.withEquipment(
					new Equipment(null, 10.0, litresPerHour, null, null, null, null, java.util.Set.of()));
			PlanRequest request = request(slow, water(random.nextDouble(), 40).ph(tenth(7.9 + 0.4 * random.nextDouble())),
					Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults());
			Plan plan = (Plan) Planner.plan(request);
			assertThat(plan.after().value(Level.FC, 0)).isGreaterThanOrEqualTo(least(request) - 0.1);
			List<Step> steps = plan.steps();
			if (steps.size() > 1 && steps.get(0).purpose() == Step.Purpose.LOWER_PH) {
				assertThat(steps.get(1).startMinutes()).isBetween(30, 60);
				both++;
			}
		}
		assertThat(both).isPositive();
	}

	/** Metal in water that is replaced is held by nothing: no superchlorination before, and no calcium hypochlorite. */
	@Test
	void metalInWaterToBeReplacedIsNotSuperchlorinated() {
		for (int i = 0; i < Draws.COUNT / 8; i++) {
			Readings.Builder readings = water(random.nextDouble(), 110 + 60 * random.nextDouble())
				.trace(Level.IRON, 0.35 + 0.5 * random.nextDouble()).cc(1 + random.nextDouble());
			Plan plan = (Plan) Planner.plan(request(Pools.plaster(15_000), readings, Situation.ROUTINE, Pools.truck(),
					TreatmentPolicy.defaults()));
			assertThat(plan.replacement()).isNotNull();
			assertThat(plan.after().value(Level.FC, 0)).isLessThanOrEqualTo(4.6);
			assertThat(plan.steps()).extracting(step -> step.product().kind().ingredient())
				.doesNotContain(ActiveIngredient.CALCIUM_HYPOCHLORITE);
		}
	}

	/** Salt lowers pH by its ionic strength: stabilizer and acid leave room for it. */
	@Test
	void saltIsCountedInWhatLowersPh() {
		PoolFacts pool = Pools.of(20_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		int salted = 0;
		for (int i = 0; i < Draws.COUNT / 8; i++) {
			Readings.Builder readings = water(2 + 2 * random.nextDouble(), 20 * random.nextDouble())
				.ph(tenth(7.3 + 0.2 * random.nextDouble()))
				.ta(120.0 + 10 * random.nextInt(7)).salt(700.0 + 50 * random.nextInt(20));
			Plan plan = (Plan) Planner.plan(request(pool, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults()));
			salted += plan.steps().stream().anyMatch(step -> step.purpose() == Step.Purpose.RAISE_SALT) ? 1 : 0;
			assertThat(plan.after().value(Level.PH, 7.5)).isGreaterThanOrEqualTo(7.19);
		}
		assertThat(salted).isPositive();
	}

	/** In scarce water no less than a tenth is replaced, no more than brings each level into range, and a strip decides on nothing. */
	@Test
	void scarceWaterAndStripsReplaceNothingNeedlessly() {
		TreatmentPolicy scarce = TreatmentPolicy.withCeiling(8);
		scarce = scarce.withCosts(scarce.costs().withWaterScarce(true));
		for (int i = 0; i < Draws.COUNT / 8; i++) {
			Readings.Builder readings = water(2, 50 + 90 * random.nextDouble()).ch(200.0 + 10 * random.nextInt(70));
			boolean strip = random.nextBoolean();
			if (strip) {
				readings.tests(TestMethods.of(TestKit.STRIPS));
			}
			Plan plan = (Plan) Planner.plan(request(Pools.of(15_000, BodyOfWater.POOL,
					random.nextBoolean() ? Surface.SOFT_SIDED : Surface.PLASTER, false, Sanitizer.CHLORINE_BY_HAND), readings,
					Situation.ROUTINE, Pools.truck(), scarce));
			assertThat(plan.outcome().suggestions()).extracting(Reason::code).doesNotContain("offer.replace");
			double cya = plan.before().value(Level.CYA, 0);
			if (strip || cya <= 110) {
				assertThat(plan.replacement()).isNull();
			}
			else if (plan.replacement() != null) {
				assertThat(plan.replacement().share()).isBetween(0.1, 1 - 100 / cya + 0.01);
			}
		}
	}

}
