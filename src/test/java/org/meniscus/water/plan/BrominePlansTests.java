package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import java.util.MissingResourceException;
import java.util.Random;
import java.util.ResourceBundle;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/**
 * Pools and spas kept on bromine, over drawn waters. At least 3 ppm, in a hot tub 4: CDC, from memory; to 8: Montana ARM 37.115.1308,
 * table, superseded version.
 */
class BrominePlansTests {

	private static final ResourceBundle ENGLISH = ResourceBundle.getBundle("messages.water", Locale.ROOT);

	private static PlanRequest request(Random random, Situation situation, double bromine, List<Product> products) {
		boolean spa = random.nextBoolean();
		PoolFacts pool = Pools.of(spa ? 200 + 600 * random.nextDouble() : 5000 + 30_000 * random.nextDouble(),
				spa ? BodyOfWater.SPA : BodyOfWater.POOL, Surface.values()[random.nextInt(Surface.values().length)],
				random.nextInt(3) == 0, Sanitizer.BROMINE);
		Readings readings = Readings.builder()
			.bromine(bromine)
			.ph(Pools.round(7.0 + 1.2 * random.nextDouble(), 0.1))
			.ta(Pools.round(60 + 100 * random.nextDouble(), 10))
			.ch(Pools.round(100 + 300 * random.nextDouble(), 10))
			.celsius(spa ? 38.0 : 26.0)
			.drainVisible(true)
			.build();
		return new PlanRequest(pool, readings, situation, products, TreatmentPolicy.defaults(), random.nextInt(10), UnitSystem.METRIC);
	}

	/** Ozone makes bromate of bromide: row sodium_bromide of the trade table never-mix.csv. */
	@Test
	void noSodiumBromideIsNamedBesideOzone() {
		Random random = new Random(66);
		int missing = 0;
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest plain = request(random, Situation.ROUTINE, Pools.round(3 * random.nextDouble(), 0.2), Pools.truck());
			Equipment fitted = new Equipment(null, null, null, null, null, null, null, Equipment.SecondSystem.of(true, false, false));
			PlanRequest ozone = new PlanRequest(plain.pool().withEquipment(fitted), plain.readings(), plain.situation(),
					plain.products(), plain.policy(), plain.daysToNextVisit(), plain.units());
			Plan plan = (Plan) Planner.plan(ozone);
			assertThat(plan.tasks()).extracting(Reason::code).doesNotContain("work.bromide-missing", "work.bromide-missing-outdoors");
			assertThat(plan.cautions()).extracting(Reason::code).contains("not.bromide-ozone");
			assertThat(((Plan) Planner.plan(plain)).cautions()).extracting(Reason::code).doesNotContain("not.bromide-ozone");
			missing += plan.tasks().stream().anyMatch(task -> task.code().equals("work.bromide-missing-ozone")) ? 1 : 0;
		}
		assertThat(missing).isPositive();
	}

	/** From the middle of the range up to what its top leaves by the error of test and volume, 1 ppm at most. */
	@Test
	void bromineThatDoesNotHoldIsRaisedToWhatDoes() {
		Random random = new Random(3);
		for (int i = 0; i < Draws.COUNT / 4; i++) {
			PlanRequest request = request(random, Situation.ROUTINE, Pools.round(4.9 * random.nextDouble(), 0.1), Pools.truck());
			Plan plan = (Plan) Planner.plan(request);
			double least = request.pool().body() == BodyOfWater.SPA ? 4 : 3;
			double before = plan.before().value(Level.BROMINE, 0);
			double after = plan.after().value(Level.BROMINE, 0);
			assertThat(after).as("%s", request).isBetween(Math.max(least, before), 7.6);
			boolean held = plan.first().stream().noneMatch(reason -> reason.code().equals("note.bromine-not-held"));
			assertThat(held || after > 6.9 - 1 || after == before).as("%s -> %s: %s", before, after, plan.first()).isTrue();
			assertThat(after > before || before > 3.8).as("%s", before).isTrue();
			assertThat(plan.steps()).noneMatch(step -> step.purpose() == Step.Purpose.RAISE_FC || step.purpose() == Step.Purpose.OXIDIZE);
			List<String> closed = plan.swim().closedUntil().stream().map(Reason::code).toList();
			assertThat(closed.contains("swim.bromine")).as("no test shows bromide").isEqualTo(before < least);
			assertThat(closed).doesNotContain("swim.bromine-falls");
			Plan again = (Plan) Planner.plan(new PlanRequest(request.pool(), request.readings().toBuilder().bromine(after).build(),
					Situation.ROUTINE, request.products(), request.policy(), request.daysToNextVisit(), request.units()));
			assertThat(again.steps()).noneMatch(step -> step.purpose() == Step.Purpose.RAISE_BROMINE);
		}
	}

	/** 1 mg of Cl2 makes 159.81/70.90 = 2.254 mg of bromine: 10 m3; 125 g/L. */
	@Test
	void amountIsThatOfTheStoichiometry() {
		PoolFacts pool = Pools.of(10_000 / 3.785411784, BodyOfWater.POOL, Surface.PLASTER, true, Sanitizer.BROMINE);
		Plan plan = (Plan) Planner.plan(new PlanRequest(pool, Pools.balanced().fc(null).cc(null).cya(null).bromine(0.0).build(),
				Situation.ROUTINE, List.of(Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125)), TreatmentPolicy.defaults(), 7,
				UnitSystem.METRIC));
		MeasuredAmount amount = plan.steps().get(0).amount();
		assertThat(amount).isNotNull();
		assertThat(amount.amount()).isCloseTo(plan.after().value(Level.BROMINE, 0) * 10 / 2.254 / 0.125, within(0.5));
		assertThat(plan.after().value(Level.BROMINE, 0)).isGreaterThan(5.5);
	}

	@Test
	void withNothingAlongThePlanSaysWhatToBringAndThePoolStaysClosed() {
		Random random = new Random(4);
		for (int i = 0; i < Draws.COUNT / 10; i++) {
			Plan plan = (Plan) Planner.plan(request(random, Situation.ROUTINE, 0.4, List.of()));
			assertThat(plan.missing()).extracting(Plan.MissingProduct::purpose).contains(Step.Purpose.RAISE_BROMINE);
			assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
			assertThat(plan.swim().closedUntil().get(0).code()).isEqualTo("swim.bromine");
		}
	}

	@Test
	void bromineNobodyTestedIsNotDosedOn() {
		PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.BROMINE);
		assertThat(Planner.plan(Pools.request(pool, Pools.balanced().build(), Situation.ROUTINE))).isInstanceOf(PlanRefusal.class);
	}

	/** Growth is treated with bromine, held day by day, and the pool closed until it holds overnight. */
	@Test
	void noPlanOfABrominePoolSpeaksOfFreeChlorineOrStabilizer() {
		Random random = new Random(5);
		int plans = 0;
		for (int i = 0; i < Draws.COUNT; i++) {
			Situation situation = Situation.values()[i % Situation.values().length];
			PlanRequest request = request(random, situation, Pools.round(12 * random.nextDouble(), 0.2), Pools.truck());
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			plans++;
			Stream.of(plan.swim().reasons(), plan.tasks(), plan.first(), plan.steps().stream().map(Step::reason).toList(),
					plan.followUps().stream().map(FollowUpStep::reason).toList(), Pools.notes(plan))
				.flatMap(List::stream)
				.forEach(reason -> assertThat(reason.format(UnitSystem.US, BrominePlansTests::english).toLowerCase(Locale.ROOT))
					.as("%s: %s", situation, reason.code())
					.doesNotContain("free chlorine", "combined chlorine"));
			if (situation.growth()) {
				assertThat(plan.after().value(Level.BROMINE, 0)).isGreaterThan(4.5);
				assertThat(plan.followUps()).extracting(later -> later.reason().code()).contains("later.bromine-hold");
				assertThat(plan.swim().closedUntil()).extracting(Reason::code).contains("swim.clear-bromine");
			}
		}
		assertThat(plans).isGreaterThan(Draws.COUNT / 2);
	}

	private static String english(String key, Object... args) {
		try {
			return java.text.MessageFormat.format(ENGLISH.getString(key), args);
		}
		catch (MissingResourceException missing) {
			throw new AssertionError(key, missing);
		}
	}

}
