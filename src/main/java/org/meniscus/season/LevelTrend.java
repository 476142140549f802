package org.meniscus.season;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.AlkalinityTrend;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

/**
 * One level of one pool that is dosed for at most visits: total alkalinity with its trend, FC and pH as last found. In the level's own unit.
 *
 * @param range null when the pool is not assessed by this level
 * @param newest the newest reading of the present water; null when there is none
 * @param alkalinity null for FC and pH, and when nothing was read lately
 * @param readings oldest first
 * @param doses what moved this level, oldest first; of FC and pH what moved it for a while
 * @param unknownDoses doses whose strength or pool volume is not known: their effect is part of the unrecorded drift
 */
public record LevelTrend(Level level, @Nullable Range range, @Nullable LevelReading newest, @Nullable AlkalinityTrend alkalinity,
		List<LevelReading> readings, List<LevelDose> doses, int unknownDoses) {

	/** Weeks ahead for which a level is called drifting. */
	static final int WEEKS_AHEAD = 8;

	/** How far ahead an exit is looked for: half a year. */
	static final int FORECAST_DAYS = 182;

	public LevelTrend {
		readings = List.copyOf(readings);
		doses = List.copyOf(doses);
	}

	/** What was read at a visit. */
	public record LevelReading(LocalDate day, UUID visit, double value, ReadingQualifier qualifier) {
	}

	/** @param change by how much it moves this level of the whole pool; null when that depends on the water or is not known */
	public record LevelDose(LocalDate day, String product, @Nullable Double change) {
	}

	/** Code under {@code level.state.*}. */
	public enum TrendState {
		IN_RANGE, DRIFTING, OUT_OF_RANGE, UNKNOWN
	}

	/** The level now; null when unknown or only a bound. */
	public @Nullable Double now() {
		if (level == Level.TA) {
			return (alkalinity != null) ? alkalinity.today().middle() : null;
		}
		return (newest != null && newest.qualifier() == ReadingQualifier.EXACT) ? newest.value() : null;
	}

	public TrendState state(LocalDate today) {
		Double now = now();
		if (range == null || newest == null) {
			return TrendState.UNKNOWN;
		}
		if (newest.qualifier() != ReadingQualifier.EXACT) {
			return boundState(newest, range);
		}
		if (now == null) {
			return TrendState.UNKNOWN;
		}
		if (now > range.acceptableHigh() || now < range.acceptableLow()) {
			return TrendState.OUT_OF_RANGE;
		}
		boolean leaves = now > range.idealHigh() || now < range.idealLow()
				|| alkalinity != null && (alkalinity.weeksToLeaveIdeal(range).orElse(Double.POSITIVE_INFINITY) <= WEEKS_AHEAD
						|| alkalinity.exit(range, today.toEpochDay(), 7 * WEEKS_AHEAD).isPresent());
		return leaves ? TrendState.DRIFTING : TrendState.IN_RANGE;
	}

	private static TrendState boundState(LevelReading reading, Range range) {
		boolean above = reading.qualifier() == ReadingQualifier.ABOVE;
		if (above ? reading.value() >= range.acceptableHigh() : reading.value() < range.acceptableLow()) {
			return TrendState.OUT_OF_RANGE;
		}
		return (above ? reading.value() >= range.idealHigh() : reading.value() <= range.idealLow()) ? TrendState.DRIFTING
				: TrendState.UNKNOWN;
	}

}
