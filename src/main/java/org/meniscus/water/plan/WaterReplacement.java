package org.meniscus.water.plan;

import java.util.List;

import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Levels;

/**
 * Advice to replace water because no product lowers a level.
 *
 * @param reasons the levels that ask for it, as data
 * @param share share of the pool to drain and refill in one batch
 * @param flowThroughVolumes pool volumes to let through when filling while draining, for the same result
 * @param litres the batch
 * @param drainCount how many drains of at most a third reach the same result
 * @param after levels expected after refilling
 * @param cautions of draining this pool
 */
public record WaterReplacement(List<Reason> reasons, double share, double flowThroughVolumes, double litres, int drainCount, Levels after,
		List<Reason> cautions) {

	public WaterReplacement {
		reasons = List.copyOf(reasons);
		cautions = List.copyOf(cautions);
	}

}
