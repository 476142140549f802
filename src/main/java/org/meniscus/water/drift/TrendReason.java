package org.meniscus.water.drift;

import java.util.List;

/**
 * Why, as data: a code and the figures that belong to it, so that every page tells the same story in its own words.
 *
 * @param figures in the order that the code names
 */
public record TrendReason(Code code, List<Double> figures) {

	public TrendReason {
		figures = List.copyOf(figures);
	}

	static TrendReason of(Code code, double... figures) {
		return new TrendReason(code, java.util.Arrays.stream(figures).boxed().toList());
	}

	/** In angle brackets the figures; levels and limits in the level's unit. */
	public enum Code {

		/** ‹level, acceptable high›. */
		ABOVE_MAXIMUM,
		/** ‹level, acceptable low›. */
		BELOW_MINIMUM,
		/** ‹level, ideal high›: acceptable, but more than ideal. */
		ABOVE_IDEAL,
		/** ‹level, ideal low›: acceptable, but less than ideal. */
		BELOW_IDEAL,
		/** ‹weeks, acceptable high›: passes it within so many weeks at this drift. */
		RISING_PAST_MAXIMUM,
		/** ‹weeks, acceptable low›. */
		FALLING_PAST_MINIMUM,
		/** ‹weeks, ideal high›. */
		RISING_PAST_IDEAL,
		/** ‹weeks, ideal low›. */
		FALLING_PAST_IDEAL,
		/** ‹level›: within the ideal range and expected to stay for the coming weeks. */
		STEADY,
		/** ‹mark›: the test's scale ended there. */
		ABOVE_SCALE,
		/** ‹mark›. */
		BELOW_SCALE,
		/** No figures: never measured. */
		NOT_MEASURED,
		/** No figures: all water was replaced after the newest reading. */
		WATER_REPLACED,
		/** No figures: the pool has no range for this level. */
		NO_RANGE,
		/** Remark ‹readings there are, readings needed›: the drift cannot be told yet. */
		TOO_FEW_READINGS,
		/** Remark ‹days since the newest reading, days after which one should test again›. */
		STALE

	}

}
