package org.meniscus.water.demand;

import java.util.Objects;

/**
 * A day of the year where a pool stands.
 *
 * @param dayOfYear 1 to 366
 */
public record ClimateDay(ClimateNormals climate, int dayOfYear) {

	/** 23 October: in the temperate climate water then falls below 15 °C. */
	private static final int USUAL_SEASON_END = 296;

	/** @throws IllegalArgumentException for a day out of the year */
	public ClimateDay {
		Objects.requireNonNull(climate);
		if (dayOfYear < 1 || dayOfYear > 366) {
			throw new IllegalArgumentException("not a day of the year: " + dayOfYear);
		}
	}

	/** Where nobody has said: the temperate climate, so many days before its usual end of season. @param days zero or more */
	public static ClimateDay beforeSeasonEnd(int days) {
		return new ClimateDay(ClimateNormals.TEMPERATE, 1 + Math.floorMod(USUAL_SEASON_END - 1 - days, 365));
	}

}
