package org.meniscus.water.assess;

import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;

/**
 * Calcite saturation index that a treatment keeps to: below it water takes lime from cement, above it lime comes out. Cement-bound
 * surfaces -0.1 to +0.3, others -0.5 to +0.3; with a salt cell at most +0.2 on its plates, where pH is about 0.1 higher than in the pool,
 * so at most +0.1 in the pool. Common practice, no source.
 *
 * @param low least index
 * @param high highest index
 */
public record SaturationBand(double low, double high) {

	private static final double CEMENT_LOW = -0.1;

	private static final double OTHER_LOW = -0.5;

	private static final double HIGH = 0.3;

	private static final double ON_PLATES = 0.2;

	/** What the higher pH at the plates of a cell adds to the index there. */
	private static final double RISE_AT_PLATES = 0.1;

	public static SaturationBand of(PoolFacts pool) {
		return new SaturationBand(pool.surface().cementBound() ? CEMENT_LOW : OTHER_LOW,
				(pool.sanitizer() == Sanitizer.SALT_CELL) ? ON_PLATES - RISE_AT_PLATES : HIGH);
	}

}
