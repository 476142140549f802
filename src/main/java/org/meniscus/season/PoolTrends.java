package org.meniscus.season;

import java.util.List;

import org.meniscus.client.PoolSummary;

/**
 * The levels of one pool that change from week to week by what is dosed for them.
 *
 * @param levels those that were read or are assessed
 */
public record PoolTrends(PoolSummary pool, List<LevelTrend> levels) {

	public PoolTrends {
		levels = List.copyOf(levels);
	}

}
