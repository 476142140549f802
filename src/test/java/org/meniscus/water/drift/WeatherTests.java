package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collections;

import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.ClimateNormals;

/** The year of a made-up climate that is the same all year, by the formulas of docs/season.md; and rain by its normals. */
class WeatherTests {

	private static Weather even(double celsius, double rain, double wetDays) {
		return new Weather(new ClimateNormals(Collections.nCopies(12, new ClimateNormals.Month(5, rain, wetDays, celsius))));
	}

	/** 1 at 29 °C, half at 21 °C; from 12 % in the cold to 130 % in the heat; breakdown doubles from 18 to 28 °C. */
	@Test
	void usesOfTheYearFollowItsTemperature() {
		assertThat(even(29, 0, 0).bathing).containsOnly(new double[]{ 1 }, within(1e-9));
		assertThat(even(21, 0, 0).bathing).containsOnly(new double[]{ 0.5 }, within(1e-9));
		assertThat(even(-4, 0, 0).bathing).containsOnly(new double[]{ 0.12 }, within(1e-9));
		assertThat(even(45, 0, 0).bathing).containsOnly(new double[]{ 1.3 }, within(1e-9));
		assertThat(even(21, 0, 0).demand).containsOnly(new double[]{ 0.575 }, within(1e-9));
		assertThat(even(18, 0, 0).breakdown).containsOnly(new double[]{ 0.5 }, within(1e-9));
		assertThat(even(28, 0, 0).breakdown).containsOnly(new double[]{ 1 }, within(1e-9));
		assertThat(even(28, 0, 0).evaporation).containsOnly(new double[]{ 5 }, within(1e-9));
	}

	/** 64 years of 366 days with 60 mm a month on 6 days of it: four standard errors of an exponential of 10 mm on each fifth day. */
	@Test
	void rainFallsAsOftenAndAsMuchAsTheNormalsSay() {
		Weather weather = even(20, 60, 6);
		double[] days = Arrays.stream(weather.rain).flatMapToDouble(Arrays::stream).toArray();
		double wet = 6 / 30.4;
		assertThat(Arrays.stream(days).average().orElseThrow()).isCloseTo(60 / 30.4, within(4 * 10 * Math.sqrt(2 * wet / days.length)));
		assertThat((double) Arrays.stream(days).filter(mm -> mm > 0).count() / days.length)
			.isCloseTo(wet, within(4 * Math.sqrt(wet / days.length)));
		assertThat(Arrays.stream(even(20, 0, 0).rain).flatMapToDouble(Arrays::stream).sum()).isZero();
		assertThat(Arrays.stream(even(20, 60, 0).rain).flatMapToDouble(Arrays::stream).sum()).as("rain on no day is none").isZero();
	}

	@Test
	void daysOfTheYearCountFromNewYear() {
		assertThat(Weather.dayOfYear(LocalDate.of(2026, 1, 1).toEpochDay())).isZero();
		assertThat(Weather.dayOfYear(LocalDate.of(2026, 12, 31).toEpochDay())).isEqualTo(364);
		assertThat(Weather.dayOfYear(LocalDate.of(2028, 12, 31).toEpochDay())).isEqualTo(365);
	}

	/** 64 scenarios, each as likely: a particle meets one after the other, and the particles of a week all of them. */
	@Test
	void scenariosAreMixedAmongParticlesAndWeeks() {
		int[] byWeek = new int[Weather.RAIN_SCENARIOS];
		int[] byParticle = new int[Weather.RAIN_SCENARIOS];
		for (int n = 0; n < 6400; n++) {
			byWeek[Weather.rainScenario(3, n)]++;
			byParticle[Weather.rainScenario(n, 2900)]++;
		}
		for (int scenario = 0; scenario < Weather.RAIN_SCENARIOS; scenario++) {
			assertThat(byWeek[scenario]).isBetween(80, 120);
			assertThat(byParticle[scenario]).isBetween(80, 120);
		}
	}

}
