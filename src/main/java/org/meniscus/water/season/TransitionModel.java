package org.meniscus.water.season;

import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.CyanuricAcidLoss;

/**
 * How CYA and CH move in each week of a year of normal weather, nothing but water and time considered: CYA breaks down
 * ({@link CyanuricAcidLoss}); splash, backwash and overflowing rain take both; fill water in place of what evaporates brings hardness. Where
 * water freezes a pool is lowered when it closes and takes rain until it opens. A column of {@link #DEPTH_MM} of water stands for the pool.
 */
final class TransitionModel {

	static final int WEEKS = 52;

	private static final int WEEK_DAYS = 7;

	/** Mean depth, mm: 16,000 gal, the average pool of Phoenix (City of Phoenix water services), on about 42 m². */
	private static final double DEPTH_MM = 1430;

	/** Room above the operating level before rain overflows, mm; as in the season estimates. Assumption. */
	private static final double FREEBOARD_MM = 25;

	/** Pools colder than this are not served, degrees Celsius; common practice, no source. */
	private static final double CLOSED_BELOW = 10;

	/** A pool is lowered for the winter where its water gets colder than this, degrees Celsius; common practice, no source. */
	private static final double LOWERED_BELOW = 8;

	/** Share of the water let out for that, to below skimmer and returns; common practice, no source. */
	private static final double LOWERED_SHARE = 0.3;

	private static final double DAYS_OF_A_MONTH = 365.25 / 12;

	/** 1 January of a year that is not a leap year, days since 1970-01-01. */
	private static final long NEW_YEAR = 11_323;

	private final double[] celsius = new double[WEEKS];

	private final boolean[] closed = new boolean[WEEKS];

	/** Share of what is dissolved that stays with the water. */
	private final double[] retained = new double[WEEKS];

	/** Fill water, as a share of the pool. */
	private final double[] filled = new double[WEEKS];

	/** Share of CYA that does not break down. */
	private final double[] unbroken = new double[WEEKS];

	private final double fillCh;

	private final double cyaSource;

	private final double chSource;

	/** @param fillCh ppm @param cyaSource,chSource what comes in beside weather and fill water, ppm a week */
	TransitionModel(ClimateNormals climate, double fillCh, double cyaSource, double chSource) {
		this.fillCh = fillCh;
		this.cyaSource = cyaSource;
		this.chSource = chSource;
		ClimateNormals.Month[] weather = new ClimateNormals.Month[WEEKS];
		double coldest = Double.POSITIVE_INFINITY;
		for (int week = 0; week < WEEKS; week++) {
			weather[week] = climate.at(NEW_YEAR + (long) WEEK_DAYS * week + WEEK_DAYS / 2);
			this.celsius[week] = weather[week].waterTemperature();
			coldest = Math.min(coldest, this.celsius[week]);
		}
		boolean winter = coldest < LOWERED_BELOW;
		for (int week = 0; week < WEEKS; week++) {
			this.closed[week] = winter && this.celsius[week] < CLOSED_BELOW;
			this.unbroken[week] = Math.pow(1 - CyanuricAcidLoss.breakdown(this.celsius[week]), WEEK_DAYS);
			this.retained[week] = 1;
		}
		for (int week = 0; week < WEEKS; week++) {
			if (!this.closed[week]) {
				exchange(week, weather[week]);
			}
			else if (!this.closed[Math.floorMod(week - 1, WEEKS)]) {
				close(week, weather);
			}
		}
	}

	/** A week in use: water lost and rain that does not fit take what is dissolved; the rest of what is missing is filled up. */
	private void exchange(int week, ClimateNormals.Month weather) {
		double evaporated = WEEK_DAYS * weather.evaporation();
		double rain = weather.rain() * WEEK_DAYS / DAYS_OF_A_MONTH;
		double lost = WEEK_DAYS * CyanuricAcidLoss.OUTFLOW * DEPTH_MM;
		double overflow = Math.max(rain - evaporated - lost, storms(weather));
		this.retained[week] = 1 - (lost + overflow) / DEPTH_MM;
		this.filled[week] = Math.max(0, evaporated + lost - (rain - overflow)) / DEPTH_MM;
	}

	/** What rain beyond the freeboard takes in a week, mm; the rain of a wet day taken as exponentially distributed. */
	private static double storms(ClimateNormals.Month weather) {
		if (weather.wetDays() <= 0 || weather.rain() <= 0) {
			return 0;
		}
		double perWetDay = weather.rain() / weather.wetDays();
		return weather.wetDays() * WEEK_DAYS / DAYS_OF_A_MONTH * perWetDay * Math.exp(-FREEBOARD_MM / perWetDay);
	}

	/** The winter in its first week: water let out, rain until spring, fill water for what is still missing then. */
	private void close(int first, ClimateNormals.Month[] weather) {
		double rain = 0;
		for (int week = first; this.closed[Math.floorMod(week, WEEKS)]; week++) {
			ClimateNormals.Month at = weather[Math.floorMod(week, WEEKS)];
			rain += Math.max(0, at.rain() * WEEK_DAYS / DAYS_OF_A_MONTH - WEEK_DAYS * at.evaporation());
		}
		double lowered = LOWERED_SHARE * DEPTH_MM;
		double overflow = Math.max(0, rain - lowered);
		this.retained[first] = (1 - LOWERED_SHARE) * DEPTH_MM / (DEPTH_MM + overflow);
		this.filled[first] = Math.max(0, lowered - rain) / DEPTH_MM;
	}

	/** Whether the pool stands closed in this week: nothing goes in and nobody swims. */
	boolean closed(int week) {
		return this.closed[week];
	}

	/** Of the water in this week, degrees Celsius. */
	double celsius(int week) {
		return this.celsius[week];
	}

	/** Fill water of this week, as a share of the pool. */
	double filled(int week) {
		return this.filled[week];
	}

	/** CYA a week later, ppm. @param cya with what went in, ppm */
	double cyaAfter(int week, double cya) {
		return Math.max(0, cya * this.retained[week] * this.unbroken[week] + (this.closed[week] ? 0 : this.cyaSource));
	}

	/** CH a week later, ppm. @param ch with what went in, ppm */
	double chAfter(int week, double ch) {
		return Math.max(0, ch * this.retained[week] + this.fillCh * this.filled[week] + (this.closed[week] ? 0 : this.chSource));
	}

	/** Level a week later. */
	@FunctionalInterface
	interface WeekAfter {

		double of(int week, double level);

	}

	/** Mean change of a level in a week in use, over half a year from this week, were it the same in each: ppm. */
	double meanChange(int week, double level, WeekAfter after) {
		double sum = 0;
		int used = 0;
		for (int n = 0; n < WEEKS / 2; n++) {
			int at = Math.floorMod(week + n, WEEKS);
			if (!this.closed[at]) {
				sum += after.of(at, level) - level;
				used++;
			}
		}
		return (used == 0) ? 0 : sum / used;
	}

}
