package org.meniscus.demo;

import java.util.Random;

import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.units.Temperature;

/** Reads a true water as a drop kit does: with its errors, in its steps. Sizes of errors: common practice, no source. */
final class DropTestKit {

	/** Above it a colour test of pH reads too high, mg/L. */
	private static final double FC_SPOILS_PH = 10;

	private static final double LOWEST_CYA_MARK = 30;

	private static final double HIGHEST_CYA_MARK = 100;

	private final Random random;

	DropTestKit(Random random) {
		this.random = random;
	}

	/** What is tested this time besides chlorine, pH and temperature. @param dilutes CYA above the tube's highest mark */
	record Asked(boolean ta, boolean ch, boolean cya, boolean salt, boolean dilutes) {
	}

	Readings read(Water water, double combined, boolean drainVisible, Asked asked) {
		double fc = drops(water.freeChlorine(), 0.06, (water.freeChlorine() > 6) ? 0.5 : 0.2);
		Readings.Builder readings = Readings.builder()
			.fc(fc)
			.cc(drops(combined, 0.1, 0.2))
			.ph((fc > FC_SPOILS_PH) ? null : Double.valueOf(Math.max(7.0, step(water.ph() + 0.05 * random.nextGaussian(), 0.1))))
			.celsius(Temperature.ofFahrenheit(Math.round(water.temperature().fahrenheit())).celsius())
			.drainVisible(drainVisible);
		if (asked.ta()) {
			readings.ta(drops(water.totalAlkalinity(), 0.04, 10));
		}
		if (asked.ch()) {
			readings.ch(drops(water.calciumHardness(), 0.03, 10));
		}
		if (asked.salt()) {
			readings.salt(drops(water.salt(), 0.02, 50));
		}
		if (asked.cya()) {
			stabilizer(readings, water.cyanuricAcid(), asked.dilutes());
		}
		return readings.build();
	}

	private void stabilizer(Readings.Builder readings, double cya, boolean dilutes) {
		double seen = drops(cya, 0.05, 5);
		if (seen < LOWEST_CYA_MARK) {
			readings.cya(LOWEST_CYA_MARK, ReadingQualifier.BELOW);
		}
		else if (seen <= HIGHEST_CYA_MARK) {
			readings.cya(seen);
		}
		else if (dilutes) {
			readings.cya(step(seen, 10));
		}
		else {
			readings.cya(HIGHEST_CYA_MARK, ReadingQualifier.ABOVE);
		}
	}

	private double drops(double value, double error, double size) {
		return Math.max(0, step(value * (1 + error * random.nextGaussian()), size));
	}

	/** In decimals that are as short as they are typed. */
	private static double step(double value, double size) {
		return Math.round(Math.round(value / size) * size * 100) / 100.0;
	}

}
