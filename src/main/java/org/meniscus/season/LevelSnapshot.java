package org.meniscus.season;

import java.time.LocalDate;
import java.util.Comparator;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.units.Band;

/**
 * One level of one pool as last assessed.
 *
 * @param today null when unknown
 * @param baselineDrift by how much it moves if the service puts nothing in, ppm a day in the mean of the rest of the season; null when that is
 * not known well enough
 * @param exit the end of its range that is expected to be left first; null when unknown or without a range
 * @param flag null when none stands
 * @param dismissal what the office said about the standing flag; null while it is a notice
 */
public record LevelSnapshot(Level level, @Nullable Band today, @Nullable Double baselineDrift, @Nullable ExitForecast exit,
		@Nullable FlagSnapshot flag,
		@Nullable Dismissal dismissal, DriftEvidence evidence) {

	/** By the expected day of leaving the range, then by how likely that is; the unknown last. */
	public static final Comparator<LevelSnapshot> EARLIEST_EXIT_FIRST = Comparator
		.comparing(LevelSnapshot::exitDay, Comparator.nullsLast(Comparator.<LocalDate>naturalOrder()))
		.thenComparing(Comparator.comparingDouble(LevelSnapshot::exitProbability).reversed());

	/**
	 * @param limit ppm
	 * @param early,day,late left by then with 10, 50 and 90 %; null when not by the end looked at
	 * @param probabilityWithinHorizon,bySeasonEnd probability, already outside included
	 */
	public record ExitForecast(RangeEnd end, double limit, @Nullable LocalDate early, @Nullable LocalDate day, @Nullable LocalDate late,
			double probabilityWithinHorizon, double probabilityBySeasonEnd) {
	}

	/** @param probability of leaving within the time a flag speaks of, as last assessed */
	public record FlagSnapshot(RangeEnd end, LocalDate since, double probability) {

		static FlagSnapshot of(LevelDrift.Flag flag) {
			return new FlagSnapshot(flag.end(), LocalDate.ofEpochDay(flag.since()), flag.probability());
		}

	}

	public record Dismissal(String reason, LocalDate on, String by) {
	}

	/** A flag that the office has not handled. */
	public boolean hasOpenNotice() {
		return flag != null && dismissal == null;
	}

	private @Nullable LocalDate exitDay() {
		return (exit != null) ? exit.day() : null;
	}

	private double exitProbability() {
		return (exit != null) ? exit.probabilityBySeasonEnd() : -1;
	}

}
