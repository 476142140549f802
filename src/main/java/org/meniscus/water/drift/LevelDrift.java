package org.meniscus.water.drift;

import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;

/**
 * One level of one pool: where it is, where it goes, and why.
 *
 * @param today null when nothing is known; {@link #notes} then say why
 * @param past as seen from today, week by week from the season's start; empty for a scan
 * @param forecast week by week from today to the season's end, if the routine goes on and nobody intervenes
 * @param baselineDrift by how much it moves if the service puts nothing in, ppm a day in the mean of the rest of the season, but not less than
 * {@link DriftSettings#HORIZON_DAYS} days; null when that is not known well enough, see {@link DriftEngine}
 * @param exits of each end of the range, keyed by side; empty without a range
 * @param flag the standing flag; null when there is none
 * @param causes of the change since the season's start; null for a scan or when nothing is known
 * @param suggestedTest a test that is worth making beyond the usual ones; null when none would change the flag
 */
public record LevelDrift(Level level, @Nullable Range range, @Nullable Band today, List<DatedBand> past,
		List<DatedBand> forecast,
		@Nullable Double baselineDrift, Map<RangeEnd, RangeExit> exits, @Nullable Flag flag, @Nullable Causes causes,
		@Nullable SuggestedTest suggestedTest,
		List<DriftNote> notes) {

	public LevelDrift {
		past = List.copyOf(past);
		forecast = List.copyOf(forecast);
		exits = Map.copyOf(exits);
		notes = List.copyOf(notes);
	}

	/**
	 * Leaving the range at one end if nobody intervenes.
	 *
	 * @param limit that end, ppm
	 * @param day10,day50,day90 by this day it has been left with 10, 50 and 90 %; null when not by the end of what was looked at.
	 * Today when it is left already
	 * @param probabilityWithinHorizon probability of leaving within {@link DriftSettings#HORIZON_DAYS} days, being outside already included
	 * @param probabilityBySeasonEnd the same by the season's end
	 * @param chances probability of having left, week by week, the season's end included
	 */
	public record RangeExit(double limit, @Nullable Long day10, @Nullable Long day50, @Nullable Long day90, double probabilityWithinHorizon,
			double probabilityBySeasonEnd, List<DatedChance> chances) {

		public RangeExit {
			chances = List.copyOf(chances);
		}

	}

	/** @param day days since 1970-01-01 */
	public record DatedChance(long day, double probability) {
	}

	/**
	 * Stands from the visit that raised it until the probability has fallen far below what raised it.
	 *
	 * @param since day of that visit
	 * @param probability of leaving the range within {@link DriftSettings#HORIZON_DAYS} days, as of today
	 */
	public record Flag(RangeEnd end, long since, double probability) {
	}

	/**
	 * The change of the estimate since the season's start, split; the parts add up to {@code change}.
	 *
	 * @param from first day of the season
	 * @param start level then, as seen from today
	 * @param change today's estimate less {@code start.middle()}
	 * @param parts ppm by cause, those that are nothing left out
	 * @param unrecorded the part {@link DriftCause#UNRECORDED} with its 80 % band
	 */
	public record Causes(long from, Band start, double change, Map<DriftCause, Double> parts, Band unrecorded) {

		public Causes {
			parts = Map.copyOf(parts);
		}

		public double part(DriftCause cause) {
			return parts.getOrDefault(cause, 0.0);
		}

	}

	/**
	 * Worth making by {@code day} because whether the level leaves the range is open, and one more reading would narrow it.
	 *
	 * @param probability of leaving as things stand
	 * @param bandBefore,bandAfter width of today's 80 % band without and, as expected, with the reading, ppm
	 */
	public record SuggestedTest(long day, double probability, double bandBefore, double bandAfter) {
	}

}
