package org.meniscus.season;

import java.util.List;
import java.util.Map;

import org.meniscus.client.PoolCard;
import org.meniscus.water.season.SeasonDrift;
import org.meniscus.water.treatment.Level;

/**
 * Where the slow levels of one pool stand and go, with what they are told from.
 *
 * @param readings by level, oldest first
 * @param doses what moved a level, by level, oldest first
 */
public record PoolDrift(PoolCard pool, SeasonDrift drift, Map<Level, List<LevelSeason.Reading>> readings,
		Map<Level, List<LevelSeason.Dose>> doses) {

	public PoolDrift {
		readings = Map.copyOf(readings);
		doses = Map.copyOf(doses);
	}

}
