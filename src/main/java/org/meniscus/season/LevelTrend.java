package org.meniscus.season;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.SeasonEstimate;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

/**
 * One level of one pool over a season. Values are in the level's own unit.
 *
 * @param range null when the pool is not judged by this level
 * @param readings oldest first
 * @param doses what moved this level, oldest first; of a level that does not last (FC, pH) what moved it for a while
 * @param unknownDoses doses whose strength or pool volume is not known: their effect is part of the unexplained drift
 */
public record LevelTrend(Level level, @Nullable Range range, SeasonEstimate estimate, List<LevelReading> readings, List<LevelDose> doses,
		int unknownDoses) {

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

}
