package org.meniscus.demo;

import java.time.LocalDate;
import java.util.Random;

import org.meniscus.water.chemistry.Evaporation;
import org.meniscus.water.units.Temperature;

/**
 * Invented weather of a dry, hot place; the same for a seed and a day whichever days were asked before. Yearly course and rain
 * are assumptions of the size usual in the low deserts of the American south-west, from memory.
 */
record DemoWeather(long seed) {

	/** An undisturbed home pool loses about half of what the formula for open water says: ASHRAE's activity factor, from memory. */
	private static final double ACTIVITY = 0.5;

	private static final double HUMIDITY = 0.45;

	private static final double METRES_PER_SECOND = 0.5;

	/** 1 at the height of summer, 0 in the depth of winter. */
	static double summerFraction(LocalDate day) {
		return 0.5 + 0.5 * Math.cos(2 * Math.PI * (day.getDayOfYear() - 205) / 365.25);
	}

	/** Of an outdoor pool without a heater. */
	Temperature water(LocalDate day) {
		return Temperature.ofCelsius(11.5 + 19 * summerFraction(day.minusDays(7)) + 0.4 * Math.sin(day.toEpochDay() / 5.0));
	}

	/** Millimetres a day off a pool at that temperature. */
	double evaporation(LocalDate day, Temperature water) {
		Temperature air = Temperature.ofCelsius(12 + 20 * summerFraction(day) + 2 * random(day).nextGaussian());
		return Math.max(0, 24 * ACTIVITY * Evaporation.perHour(water, air, HUMIDITY, METRES_PER_SECOND));
	}

	/** Millimetres. */
	double rain(LocalDate day) {
		Random random = random(day);
		random.nextGaussian();
		int month = day.getMonthValue();
		boolean wet = random.nextDouble() < ((month >= 7 && month <= 9) ? 0.12 : 0.05);
		return wet ? -7 * Math.log(1 - random.nextDouble()) : 0;
	}

	private Random random(LocalDate day) {
		return new Random(seed * 1_000_003 + day.toEpochDay() * 7919);
	}

}
