package org.meniscus.water.plan;

import java.util.List;

import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Levels;

/**
 * Advice to replace water because no product lowers a level.
 *
 * @param causes the levels that ask for it, as data
 * @param share share of the pool to drain and refill in one batch
 * @param runThrough pool volumes to let through when filling while draining, for the same result
 * @param litres the batch
 * @param partialDrains how many drains of at most a third reach the same result
 * @param after levels expected after refilling
 * @param cautions of draining this pool
 */
public record WaterReplacement(List<Reason> causes, double share, double runThrough, double litres, int partialDrains, Levels after,
		List<Reason> cautions) {

	public WaterReplacement {
		causes = List.copyOf(causes);
		cautions = List.copyOf(cautions);
	}

}
