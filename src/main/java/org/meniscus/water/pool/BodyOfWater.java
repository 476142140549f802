package org.meniscus.water.pool;

/** Kind of water body. */
public enum BodyOfWater {

	POOL,
	/** Hot water, small volume, 40 °C (104 °F) at most. */
	SPA

}
