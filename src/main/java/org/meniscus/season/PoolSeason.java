package org.meniscus.season;

import java.util.List;

import org.meniscus.client.PoolCard;

/**
 * The levels of one pool that change from week to week by what is dosed for them.
 *
 * @param levels those that were read or are judged
 */
public record PoolSeason(PoolCard pool, List<LevelSeason> levels) {

	public PoolSeason {
		levels = List.copyOf(levels);
	}

}
