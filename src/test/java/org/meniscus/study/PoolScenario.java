package org.meniscus.study;

import java.util.Random;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.pool.Sanitizer;

/**
 * Kind of pools a study draws. All figures are assumptions, of the size named beside them, and known to the study only.
 *
 * @param twice whether it is visited twice a week, each 3 or 4 days; otherwise each 5 to 9 days, 7 most often
 * @param warmer degrees Celsius above a dry warm place: water 18 to 29 °C from spring to late summer
 * @param litres median volume; 60 m³ is about the average pool of Phoenix (City of Phoenix water services: 16,000 gal)
 * @param use median FC used a day at 29 °C, CYA 40 and an FC of 5 in the mean of a week, ppm; 1 to 2 ppm a day is common practice, no source
 * @param daily s.d. of ln use from day to day, correlated by 0.7
 * @param testShare s.d. of the FC test as a share; 6 % common practice, no source
 * @param climate whose water, evaporation and rain it has, from 1 March on; null: a warm dry place from spring on, its winter left out
 */
public record PoolScenario(String name, Sanitizer sanitizer, boolean twice, double warmer, double litres, double use, double daily,
		double testShare, @Nullable ClimateNormals climate) {

	public static final PoolScenario USUAL = new PoolScenario("usual", Sanitizer.CHLORINE_BY_HAND, false, 0, 60_000, 1.35, 0.3, 0.06, null);

	public static final PoolScenario HOTTER = new PoolScenario("hotter", Sanitizer.CHLORINE_BY_HAND, false, 4, 60_000, 1.6, 0.3, 0.06,
			null);

	public static final PoolScenario HOTTER_TWICE = new PoolScenario("hotter, twice a week", Sanitizer.CHLORINE_BY_HAND, true, 4, 60_000,
			1.6, 0.3, 0.06, null);

	public static final PoolScenario TWICE = new PoolScenario("usual, twice a week", Sanitizer.CHLORINE_BY_HAND, true, 0, 60_000, 1.35, 0.3,
			0.06, null);

	public static final PoolScenario SMALLER = new PoolScenario("smaller", Sanitizer.CHLORINE_BY_HAND, false, 0, 15_000, 1.6, 0.45, 0.06,
			null);

	public static final PoolScenario NOISIER = new PoolScenario("noisier tests", Sanitizer.CHLORINE_BY_HAND, false, 0, 60_000, 1.35, 0.3,
			0.12, null);

	public static final PoolScenario CELL = new PoolScenario("salt cell", Sanitizer.SALT_CELL, false, 0, 60_000, 1.35, 0.3, 0.06, null);

	public static final PoolScenario FEEDER = new PoolScenario("tablet feeder", Sanitizer.TABLET_FEEDER, false, 0, 60_000, 1.35, 0.3, 0.06,
			null);

	/** The usual pool through the years of a climate. */
	public static PoolScenario in(String name, ClimateNormals climate, boolean twice) {
		return new PoolScenario(name + (twice ? ", twice a week" : ", weekly"), Sanitizer.CHLORINE_BY_HAND, twice, 0, 60_000, 1.35, 0.3,
				0.06,
				climate);
	}

	public PoolScenario with(Sanitizer sanitizer) {
		return new PoolScenario(name, sanitizer, twice, warmer, litres, use, daily, testShare, climate);
	}

	/** Until the next visit. */
	public int days(Random random) {
		return twice ? 3 + random.nextInt(2) : 5 + random.nextInt(3) + random.nextInt(3);
	}

}
