package org.meniscus.water.drift;

import java.util.List;
import java.util.Map;
import java.util.Optional;

import org.jspecify.annotations.Nullable;

/**
 * What can be told about one level of one pool. All intervals are meant to hold four times in five (80 %).
 *
 * @param state never better than the evidence: {@link State#UNKNOWN} when nothing usable was read
 * @param drift absent when there are too few readings to tell
 * @param exit when the acceptable range is expected to be left; absent when not before the season's end, when it is left
 * already, or when nothing can be said
 * @param reason why the state is what it is
 * @param remarks what else a reader should know, such as how old the newest reading is
 * @param readings how many readings were used, marked ones included
 * @param lastReadingDay day of the newest reading
 * @param course the level day by day as estimated, for drawing; empty when there is no level
 */
public record SeasonEstimate(State state, Today today, @Nullable Drift drift, @Nullable Exit exit, TrendReason reason,
		List<TrendReason> remarks, int readings, @Nullable Long lastReadingDay, List<Point> course) {

	public SeasonEstimate {
		remarks = List.copyOf(remarks);
		course = List.copyOf(course);
	}

	public Optional<TrendReason> remark(TrendReason.Code code) {
		return remarks.stream().filter(remark -> remark.code() == code).findFirst();
	}

	/** State of a level. */
	public enum State {

		/** Within the ideal range and expected to stay. */
		IN_RANGE,
		/** Between ideal and acceptable, or expected to leave the ideal or acceptable range within the coming weeks. */
		DRIFTING,
		/** Outside the acceptable range. */
		OUT_OF_RANGE,
		/** Nothing to say it by. */
		UNKNOWN

	}

	/** The level today. */
	public sealed interface Today {

		/** In the level's unit; {@code low} to {@code high} is the 80 % band. */
		record Level(double low, double middle, double high) implements Today {
		}

		/** Every usable reading stood at the low end of the test: somewhere from nothing to {@code mark}. */
		record Below(double mark) implements Today {
		}

		/** Every usable reading stood at the high end of the test: {@code mark} or more. */
		record Above(double mark) implements Today {
		}

		/** Not read, or all of the water was replaced since. */
		record Unknown() implements Today {
		}

	}

	/**
	 * Change of the level per week, in the level's unit.
	 *
	 * @param recorded by the products on record, average of the recent weeks
	 * @param bySource {@code recorded} split by source; adds up to it
	 * @param other what the records do not explain: fill water, rain, splash-out, evaporation, things nobody wrote down
	 * @param otherLow,otherHigh 80 % interval of {@code other}; infinite where the readings do not bound it
	 */
	public record Drift(double recorded, Map<String, Double> bySource, double other, double otherLow, double otherHigh) {

		public Drift {
			bySource = Map.copyOf(bySource);
		}

		public double perWeek() {
			return recorded + other;
		}

		public double perWeekLow() {
			return recorded + otherLow;
		}

		public double perWeekHigh() {
			return recorded + otherHigh;
		}

		/** Whether the readings settle which way the level goes. */
		public boolean signKnown() {
			return perWeekLow() > 0 || perWeekHigh() < 0;
		}

	}

	/**
	 * Leaving the acceptable range.
	 *
	 * @param day expected, at today's drift
	 * @param earliest first day on which it is plausible (80 %)
	 * @param latest last day by which it is expected (80 %); absent when it may well not happen before the season's end
	 * @param limit the end of the range that is left
	 * @param rising whether it is left at the high end
	 */
	public record Exit(long day, long earliest, @Nullable Long latest, double limit, boolean rising) {
	}

	public record Point(long day, double level) {
	}

}
