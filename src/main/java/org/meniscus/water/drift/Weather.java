package org.meniscus.water.drift;

import java.time.LocalDate;

import org.meniscus.water.demand.CyanuricAcidLoss;

/** What a day of the year may be like: the normals, and so many ways in which the rain may fall, always the same ones. */
final class Weather {

	/** Ways the rain may fall; a power of two. */
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

	/** Rain of the day, mm, by way and day of the year. */
	final double[][] rain = new double[RAIN_SCENARIOS][DAYS];

	Weather(ClimateNormals normals) {
		long newYear = LocalDate.of(2000, 1, 1).toEpochDay();
		XorShiftRandom noise = new XorShiftRandom(20_000_101);
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
			for (int way = 0; way < RAIN_SCENARIOS; way++) {
				rain[way][day] = noise.chance(wet) ? noise.exponential(mean) : 0;
			}
		}
	}

	/** Index of the day in the arrays. */
	static int dayOfYear(long epochDay) {
		return LocalDate.ofEpochDay(epochDay).getDayOfYear() - 1;
	}

}
