package org.meniscus.season;

import java.util.List;
import java.util.Map;

import org.meniscus.client.PoolSummary;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.pool.Level;

/**
 * Where the slow levels of one pool stand and go, with the records they are estimated from.
 *
 * @param readings by level, oldest first
 * @param doses what moved a level, by level, oldest first
 */
public record PoolDrift(PoolSummary pool, SeasonDrift drift, Map<Level, List<LevelTrend.LevelReading>> readings,
		Map<Level, List<LevelTrend.LevelDose>> doses) {

	public PoolDrift {
		readings = Map.copyOf(readings);
		doses = Map.copyOf(doses);
	}

}
