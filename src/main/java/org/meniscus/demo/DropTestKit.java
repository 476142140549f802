package org.meniscus.demo;

import java.util.Random;

import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.units.Temperature;

/** Reads a true water as a drop kit does: with its errors, in its steps. Sizes of errors: common practice, no source. */
final class DropTestKit {

	/** Above it a colour test of pH reads too high, mg/L. */
	private static final double PH_TEST_MAX_FC = 10;

	private static final double LOWEST_CYA_MARK = 30;

	private static final double HIGHEST_CYA_MARK = 100;

	private final Random random;

	DropTestKit(Random random) {
		this.random = random;
	}

	/** What is tested this time besides chlorine, pH and temperature. @param dilutes CYA above the tube's highest mark */
	record RequestedTests(boolean ta, boolean ch, boolean cya, boolean salt, boolean dilutes) {
	}

	Readings test(Water water, double combined, boolean drainVisible, RequestedTests asked) {
		double fc = titrate(water.freeChlorine(), 0.06, (water.freeChlorine() > 6) ? 0.5 : 0.2);
		Readings.Builder readings = Readings.builder()
			.fc(fc)
			.cc(titrate(combined, 0.1, 0.2))
			.ph((fc > PH_TEST_MAX_FC) ? null : Double.valueOf(Math.max(7.0, roundToStep(water.ph() + 0.05 * random.nextGaussian(), 0.1))))
			.celsius(Temperature.ofFahrenheit(Math.round(water.temperature().fahrenheit())).celsius())
			.drainVisible(drainVisible);
		if (asked.ta()) {
			readings.ta(titrate(water.totalAlkalinity(), 0.04, 10));
		}
		if (asked.ch()) {
			readings.ch(titrate(water.calciumHardness(), 0.03, 10));
		}
		if (asked.salt()) {
			readings.salt(titrate(water.salt(), 0.02, 50));
		}
		if (asked.cya()) {
			stabilizer(readings, water.cyanuricAcid(), asked.dilutes());
		}
		return readings.build();
	}

	private void stabilizer(Readings.Builder readings, double cya, boolean dilutes) {
		double seen = titrate(cya, 0.05, 5);
		if (seen < LOWEST_CYA_MARK) {
			readings.cya(LOWEST_CYA_MARK, ReadingQualifier.BELOW);
		}
		else if (seen <= HIGHEST_CYA_MARK) {
			readings.cya(seen);
		}
		else if (dilutes) {
			readings.cya(roundToStep(seen, 10));
		}
		else {
			readings.cya(HIGHEST_CYA_MARK, ReadingQualifier.ABOVE);
		}
	}

	private double titrate(double value, double error, double size) {
		return Math.max(0, roundToStep(value * (1 + error * random.nextGaussian()), size));
	}

	/** In decimals that are as short as they are typed. */
	private static double roundToStep(double value, double size) {
		return Math.round(Math.round(value / size) * size * 100) / 100.0;
	}

}
