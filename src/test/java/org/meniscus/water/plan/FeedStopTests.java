package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.units.UnitSystem;

/** What a plan stops it does not count on; on drawn waters. */
class FeedStopTests {

	private static final int WATERS = 150;

	private static final int DAYS = 7;

	private static Plan plan(Sanitizer sanitizer, Readings.Builder readings) {
		return (Plan) Planner.plan(new PlanRequest(Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer), readings.build(),
				Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), DAYS, UnitSystem.METRIC));
	}

	private static double fcAtNextVisit(Plan plan) {
		return plan.outcome().nextVisit().get(Level.FC).middle();
	}

	private static List<String> work(Plan plan) {
		return plan.tasks().stream().map(Reason::code).toList();
	}

	private static Readings.Builder drawn(Random random) {
		return Pools.balanced().fc(0.5 * random.nextInt(8)).ph(7.2 + 0.1 * random.nextInt(6)).cya(30.0 + 5 * random.nextInt(3));
	}

	/** The same as where only hands add chlorine: nothing else is left that brings any. */
	@Test
	void tabletsThatAreTakenOutBringNothing() {
		Random random = new Random(20261127);
		for (int n = 0; n < WATERS; n++) {
			Sanitizer sanitizer = random.nextBoolean() ? Sanitizer.TABLET_FEEDER : Sanitizer.FLOATER;
			boolean stabilizer = random.nextBoolean();
			Readings.Builder readings = stabilizer ? drawn(random).cya(85.0 + 5 * random.nextInt(3))
					: drawn(random).ph(7.0 + 0.1 * random.nextInt(4)).ta(30.0 + 10 * random.nextInt(3));
			Plan plan = plan(sanitizer, readings);
			assertThat(work(plan)).containsAnyOf("work.feeder-empty", "work.floater-empty", "work.tablets-out-ta");
			double left = plan.after().value(Level.FC);
			assertThat(fcAtNextVisit(plan)).as("%s, FC %.1f today", sanitizer, left).isLessThan(Math.max(0.01, 0.6 * left));
		}
	}

	/** A feeder that let FC fall is not counted on for more than it brought; somebody pours between visits. */
	@Test
	void aFeederThatDidNotHoldIsNotCountedOn() {
		Random random = new Random(7);
		for (int n = 0; n < WATERS; n++) {
			Plan plan = plan(Sanitizer.TABLET_FEEDER, drawn(random).fc(0.1 * random.nextInt(15)).cya(10.0 + 5 * random.nextInt(7)));
			assertThat(fcAtNextVisit(plan)).isLessThan(plan.after().value(Level.FC));
			assertThat(plan.outcome().suggestions()).extracting(Reason::code)
				.contains("offer.client-adds-daily")
				.doesNotContain("offer.feeder-times");
		}
	}

	/** A cell below its range of salt makes little or nothing; where salt goes in it is off for a day, and somebody turns it on. */
	@Test
	void aCellWithTooLittleSaltIsNotCountedOn() {
		Random random = new Random(3);
		for (int n = 0; n < WATERS; n++) {
			double salt = 1500.0 + 50 * random.nextInt(19);
			long seed = random.nextLong();
			Plan raised = plan(Sanitizer.SALT_CELL, drawn(new Random(seed)).salt(salt));
			Plan enough = plan(Sanitizer.SALT_CELL, drawn(new Random(seed)).salt(3200.0));
			assertThat(raised.steps()).anyMatch(step -> step.purpose() == Step.Purpose.RAISE_SALT);
			assertThat(raised.followUps()).anyMatch(later -> later.reason().code().equals("later.cell-on") && later.afterHours() == 24);
			double gained = fcAtNextVisit(enough) - enough.after().value(Level.FC);
			assertThat(fcAtNextVisit(raised) - raised.after().value(Level.FC)).as("a day less than %.2f", gained).isLessThan(gained);
		}
	}

	/** Off until people may swim, then on again: FC does not rise above where it began. */
	@ParameterizedTest
	@EnumSource(names = { "TABLET_FEEDER", "SALT_CELL" })
	void tooMuchChlorineFallsWhileTheFeedIsOff(Sanitizer sanitizer) {
		Random random = new Random(5);
		for (int n = 0; n < WATERS; n++) {
			double fc = 6 + 0.5 * random.nextInt(9);
			Plan plan = plan(sanitizer, drawn(random).fc(fc).salt(3200.0));
			assertThat(work(plan)).contains("work.feed-on-again", "work.stop-feed")
				.doesNotContain("work.who-added");
			assertThat(fcAtNextVisit(plan)).isLessThan(fc);
		}
	}

}
