package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** Doses grow from nothing: a tenth of a test step does not turn one on whole. On drawn waters. */
class ContinuityTests {

	private static final int WATERS = Draws.COUNT / 40;

	private static final List<Product> TRUCK = List.of(Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125),
			Product.usual("acid", ProductKind.MURIATIC_3145), Product.usual("oxidizer", ProductKind.MPS));

	private final Random random = new Random(20261128);

	private static Plan plan(PoolFacts pool, Readings.Builder readings, Situation situation, double ceiling) {
		return (Plan) Planner.plan(new PlanRequest(pool, readings.build(), situation, TRUCK, TreatmentPolicy.withCeiling(ceiling), 7,
				UnitSystem.METRIC));
	}

	private static double moved(Plan plan, Step.Purpose purpose, Level level) {
		return plan.steps()
			.stream()
			.filter(step -> step.purpose() == purpose)
			.mapToDouble(step -> Math.abs(step.after().value(level, 0) - step.before().value(level, 0)))
			.sum();
	}

	private double drawn(double low, double high) {
		return low + (high - low) * this.random.nextDouble();
	}

	/** @return largest dose, ppm */
	private static double rises(double from, double to, double step, double most, DoubleUnaryOperator dose) {
		double largest = 0;
		double last = dose.applyAsDouble(from);
		for (double reading = from + step; reading <= to; reading += step) {
			double now = dose.applyAsDouble(reading);
			// the distance of two marks is a sixteenth of the dose at most
			assertThat(Math.abs(now - last)).as("%.2f: %.2f -> %.2f ppm", reading, last, now)
				.isLessThanOrEqualTo(most + Math.max(now, last) / 16);
			largest = Math.max(largest, now);
			last = now;
		}
		return largest;
	}

	@Test
	void acidGrowsWithPhThroughTheSecondAddition() {
		int twice = 0;
		for (int n = 0; n < WATERS; n++) {
			PoolFacts pool = Pools.plaster(drawn(5_000, 30_000));
			double ta = drawn(80, 160);
			double celsius = drawn(15, 32);
			double most = rises(7.6, 8.6, 0.01, 2,
					ph -> moved(plan(pool, Pools.balanced().ph(ph).ta(ta).ch(400.0).celsius(celsius), Situation.ROUTINE, 4),
							Step.Purpose.LOWER_PH, Level.TA));
			twice += most > 15 ? 1 : 0;
		}
		assertThat(twice).isGreaterThan(WATERS / 4);
	}

	@Test
	void chlorineGrowsAsFcFallsShortOfWhatHolds() {
		int much = 0;
		for (int n = 0; n < WATERS; n++) {
			PoolFacts pool = Pools.plaster(drawn(5_000, 30_000));
			double cya = drawn(20, 60);
			double celsius = drawn(12, 30);
			double ceiling = drawn(4, 10);
			double most = rises(0, ceiling, 0.02, 0.65,
					fc -> moved(plan(pool, Pools.balanced().fc(fc).cya(cya).celsius(celsius), Situation.ROUTINE, ceiling),
							Step.Purpose.RAISE_FC, Level.FC));
			much += most > 2 ? 1 : 0;
		}
		assertThat(much).isGreaterThan(WATERS / 4);
	}

	/** Below half of it a dose is not held back: the rest goes in after a test. */
	@Test
	void whatGoesInBeforeTheTestGrowsWithWhatIsCertain() {
		int parts = 0;
		for (int n = 0; n < WATERS; n++) {
			PoolFacts pool = Pools.plaster(drawn(5_000, 30_000));
			PoolFacts guessed = pool.withVolume(pool.volume(), VolumeCertainty.ESTIMATED);
			double ceiling = drawn(5, 10);
			double cya = drawn(20, 60);
			rises(0, 5, 0.02, 0.65,
					fc -> moved(plan(guessed, Pools.balanced().fc(fc).cya(cya), Situation.ROUTINE, ceiling),
							Step.Purpose.RAISE_FC, Level.FC));
			Plan empty = plan(guessed, Pools.balanced().fc(0.0).cya(cya), Situation.ROUTINE, ceiling);
			boolean part = empty.followUps().stream().anyMatch(later -> later.reason().code().equals("later.rest-after-test"));
			double share = empty.steps().get(0).amount().amount() / empty.steps().get(0).unroundedAmount();
			assertThat(share).isBetween(part ? 0.45 : 0.93, part ? 1.0 : 1.07);
			parts += part ? 1 : 0;
		}
		assertThat(parts).isBetween(1, WATERS - 1);
	}

	@Test
	void superchlorinationBringsNoLessThanAnOrdinaryVisit() {
		for (int n = 0; n < WATERS; n++) {
			PoolFacts pool = Pools.plaster(drawn(5_000, 30_000));
			double ceiling = drawn(4, 10);
			Readings.Builder readings = Pools.balanced().fc(drawn(0, 3)).cya(drawn(0, 60)).celsius(drawn(15, 32));
			double usual = plan(pool, readings, Situation.ROUTINE, ceiling).after().value(Level.FC, 0);
			for (Situation situation : List.of(Situation.HIGH_COMBINED_CHLORINE, Situation.GREEN_ALGAE_LIGHT, Situation.CLOUDY)) {
				assertThat(plan(pool, readings, situation, ceiling).after().value(Level.FC, 0)).as("%s", situation)
					.isGreaterThanOrEqualTo(0.93 * usual);
			}
		}
	}

}
