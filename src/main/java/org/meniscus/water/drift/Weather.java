package org.meniscus.water.drift;

import java.time.LocalDate;

import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.CyanuricAcidLoss;
import org.meniscus.water.units.XorShiftRandom;

/** Weather by day of the year: the normals, and scenarios of daily rain drawn once from them, always the same ones. */
final class Weather {

	/** A power of two. */
	static final int RAIN_SCENARIOS = 64;

	private static final int DAYS = 366;

	/** Mean evaporation, mm, by day of the year. */
	final double[] evaporation = new double[DAYS];

	/** Chlorine use, 1 at the height of a warm season. */
	final double[] demand = new double[DAYS];

	/** How much people are in the water, 1 at the height of a warm season. */
	final double[] bathing = new double[DAYS];

	/** Speed of the breakdown of CYA, 1 at 28 °C. */
	final double[] breakdown = new double[DAYS];

	/** Rain of the day, mm, by scenario and day of the year. */
	final double[][] rain = new double[RAIN_SCENARIOS][DAYS];

	Weather(ClimateNormals normals) {
		long newYear = LocalDate.of(2000, 1, 1).toEpochDay();
		XorShiftRandom random = new XorShiftRandom(20_000_101);
		for (int day = 0; day < DAYS; day++) {
			ClimateNormals.Month at = normals.at(newYear + day);
			evaporation[day] = at.evaporation();
			// assumption: chlorine use doubles every 8 degrees
			double warmth = Math.min(1.3, Math.max(0.12, Math.pow(2, (at.waterTemperature() - 29) / 8)));
			bathing[day] = warmth;
			demand[day] = 0.15 + 0.85 * warmth;
			breakdown[day] = CyanuricAcidLoss.temperatureFactor(at.waterTemperature());
			double wet = Math.min(1, at.wetDays() / 30.4);
			double mean = (wet > 0) ? at.rain() / 30.4 / wet : 0;
			for (int scenario = 0; scenario < RAIN_SCENARIOS; scenario++) {
				rain[scenario][day] = random.chance(wet) ? random.exponential(mean) : 0;
			}
		}
	}

	/** Which scenario a particle meets in a week: scattered by two odd constants, the same every time. */
	static int rainScenario(int particle, long week) {
		return (int) ((particle * 0x9E3779B1L + week * 0x85EBCA6BL) >>> 8) & (RAIN_SCENARIOS - 1);
	}

	/** Index of the day in the arrays. */
	static int dayOfYear(long epochDay) {
		return LocalDate.ofEpochDay(epochDay).getDayOfYear() - 1;
	}

}
