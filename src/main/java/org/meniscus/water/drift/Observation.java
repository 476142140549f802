package org.meniscus.water.drift;

import org.meniscus.water.pool.ReadingQualifier;

/**
 * One test of one level.
 *
 * @param day any count of days, the same for everything in one question (such as {@code LocalDate.toEpochDay})
 * @param value what was read, in the level's own unit (ppm; pH units); for a marked reading the mark on the test's scale
 * @param mark whether the value is the reading itself or only a bound of it
 */
public record Observation(long day, double value, ReadingQualifier mark) {

	public Observation {
		if (!(value >= 0) || Double.isInfinite(value)) {
			throw new IllegalArgumentException("not a reading: " + value);
		}
	}

	public static Observation measured(long day, double value) {
		return new Observation(day, value, ReadingQualifier.EXACT);
	}

	public static Observation below(long day, double mark) {
		return new Observation(day, mark, ReadingQualifier.BELOW);
	}

	public static Observation above(long day, double mark) {
		return new Observation(day, mark, ReadingQualifier.ABOVE);
	}

	/** Least value it can stand for; levels are never negative. */
	double low() {
		return (mark == ReadingQualifier.BELOW) ? 0 : value;
	}

	/** Greatest value it can stand for. */
	double high() {
		return (mark == ReadingQualifier.ABOVE) ? Double.POSITIVE_INFINITY : value;
	}

}
