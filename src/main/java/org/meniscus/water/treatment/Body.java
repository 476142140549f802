package org.meniscus.water.treatment;

/** Kind of water body. */
public enum Body {

	POOL,
	/** Hot water, small volume, 40 °C (104 °F) at most. */
	SPA

}
