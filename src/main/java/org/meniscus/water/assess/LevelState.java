package org.meniscus.water.assess;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

/**
 * How one level stands to its range.
 *
 * @param value as tested or worked out
 * @param limit the end of the ideal (when drifting) or acceptable (when out of range) part that is passed; null in range
 * @param deviation how far beyond {@code limit}, above zero; zero in range
 * @param range what it was compared with
 * @param reason the same as data for a sentence; null in range
 */
public record LevelState(Level level, double value, ReadingQualifier qualifier, State state, Direction direction, @Nullable Double limit,
		double deviation,
		Range range, @Nullable Reason reason) {

	/** State of a level. */
	public enum State {

		/** Inside the ideal range. */
		IN_RANGE,
		/** Between ideal and acceptable. */
		DRIFTING,
		/** Beyond acceptable. */
		OUT_OF_RANGE

	}

	/** On which side of the range. */
	public enum Direction {

		LOW, INSIDE, HIGH

	}

	/** Judges a value against a range; a "less than" is in range whenever some value below it would be, likewise a "more than". */
	public static LevelState of(Level level, double value, ReadingQualifier qualifier, Range range) {
		if (qualifier != ReadingQualifier.ABOVE
				&& (value < range.idealLow() || (qualifier == ReadingQualifier.BELOW && value <= range.idealLow() && value > 0))) {
			boolean out = value < range.acceptableLow() || (qualifier == ReadingQualifier.BELOW && value <= range.acceptableLow());
			return off(level, value, qualifier, out, Direction.LOW, out ? range.acceptableLow() : range.idealLow(), range);
		}
		if (qualifier != ReadingQualifier.BELOW
				&& (value > range.idealHigh() || (qualifier == ReadingQualifier.ABOVE && value >= range.idealHigh()))) {
			boolean out = value > range.acceptableHigh() || (qualifier == ReadingQualifier.ABOVE && value >= range.acceptableHigh());
			return off(level, value, qualifier, out, Direction.HIGH, out ? range.acceptableHigh() : range.idealHigh(), range);
		}
		return new LevelState(level, value, qualifier, State.IN_RANGE, Direction.INSIDE, null, 0, range, null);
	}

	private static LevelState off(Level level, double value, ReadingQualifier qualifier, boolean out, Direction direction, double limit,
			Range range) {
		double by = Math.abs(value - limit);
		String code = (out ? "state.out-" : "state.drifting-") + (direction == Direction.LOW ? "low" : "high");
		Reason reason = Reason.of(code, Term.of(level), new Term.Value(level, value, qualifier), Term.of(level, limit),
				new Term.Difference(level, by), new Term.Text(range.source()));
		return new LevelState(level, value, qualifier, out ? State.OUT_OF_RANGE : State.DRIFTING, direction, limit, by, range, reason);
	}

}
