package org.meniscus.season;

import java.time.LocalDate;
import java.util.Comparator;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.DriftBand;
import org.meniscus.water.drift.RangeEnd;
import org.meniscus.water.pool.Level;

/**
 * One level of one pool as last judged.
 *
 * @param today null when nothing can be told
 * @param byItself by how much it moves if the service puts nothing in, ppm a day in the mean of the rest of the season; null when that is
 * not known well enough
 * @param leaving the end of its range that is expected to be left first; null when nothing can be told or there is no range
 * @param flag null when none stands
 * @param dismissed what the office said about the standing flag; null while it is a notice
 */
public record LevelSnapshot(Level level, @Nullable DriftBand today, @Nullable Double byItself, @Nullable Leaving leaving, @Nullable Standing flag,
		@Nullable Dismissal dismissed, DriftEvidence evidence) {

	/** By the expected day of leaving the range, then by how likely that is; what cannot be told last. */
	public static final Comparator<LevelSnapshot> FIRST_TO_LEAVE = Comparator
		.comparing(LevelSnapshot::day, Comparator.nullsLast(Comparator.<LocalDate>naturalOrder()))
		.thenComparing(Comparator.comparingDouble(LevelSnapshot::chance).reversed());

	/**
	 * @param limit ppm
	 * @param early,day,late left by then with 10, 50 and 90 %; null when not by the end looked at
	 * @param withinHorizon,bySeasonEnd probability, already outside included
	 */
	public record Leaving(RangeEnd side, double limit, @Nullable LocalDate early, @Nullable LocalDate day, @Nullable LocalDate late,
			double withinHorizon, double bySeasonEnd) {
	}

	/** @param chance of leaving within the time a flag speaks of, as last judged */
	public record Standing(RangeEnd side, LocalDate since, double chance) {
	}

	public record Dismissal(String reason, LocalDate on, String by) {
	}

	/** A flag that the office has not handled. */
	public boolean notice() {
		return flag != null && dismissed == null;
	}

	private @Nullable LocalDate day() {
		return (leaving != null) ? leaving.day() : null;
	}

	private double chance() {
		return (leaving != null) ? leaving.bySeasonEnd() : -1;
	}

}
