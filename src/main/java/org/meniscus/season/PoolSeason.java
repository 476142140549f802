package org.meniscus.season;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolCard;
import org.meniscus.platform.PersonId;
import org.meniscus.water.season.SeasonEstimate;
import org.meniscus.water.season.SeasonEstimate.Drift;
import org.meniscus.water.season.SeasonEstimate.Exit;
import org.meniscus.water.treatment.Level;

/**
 * The levels of one pool.
 *
 * @param levels those that were read or are judged, slow ones first
 * @param lastTechnician who was there last; null when nobody was yet
 */
public record PoolSeason(PoolCard pool, List<LevelSeason> levels, @Nullable PersonId lastTechnician) {

	/** Out of range first, then whatever leaves its range soonest, then the fastest drift; what is unknown last. */
	public static final Comparator<LevelSeason> URGENCY = Comparator.comparingInt(PoolSeason::rank)
		.thenComparingLong(PoolSeason::exitDay)
		.thenComparing(Comparator.comparingDouble(PoolSeason::drift).reversed());

	public PoolSeason {
		levels = List.copyOf(levels);
	}

	public Optional<LevelSeason> level(Level level) {
		return levels.stream().filter(candidate -> candidate.level() == level).findFirst();
	}

	/** The most urgent of some levels. */
	public Optional<LevelSeason> mostUrgent(List<Level> among) {
		return levels.stream().filter(candidate -> among.contains(candidate.level())).min(URGENCY);
	}

	private static int rank(LevelSeason level) {
		return switch (level.estimate().state()) {
			case OUT_OF_RANGE -> 0;
			case DRIFTING, IN_RANGE -> (level.estimate().exit() != null) ? 1
					: (level.estimate().state() == SeasonEstimate.State.DRIFTING) ? 2 : 3;
			case UNKNOWN -> 4;
		};
	}

	private static long exitDay(LevelSeason level) {
		Exit exit = level.estimate().exit();
		return (exit != null) ? exit.day() : Long.MAX_VALUE;
	}

	/** Per week, as a share of the acceptable range, so that levels of different size compare. */
	private static double drift(LevelSeason level) {
		Drift drift = level.estimate().drift();
		if (drift == null || level.range() == null) {
			return 0;
		}
		double span = level.range().acceptableHigh() - level.range().acceptableLow();
		return (span > 0) ? Math.abs(drift.perWeek()) / span : 0;
	}

}
