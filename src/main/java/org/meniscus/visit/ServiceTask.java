package org.meniscus.visit;

import org.meniscus.water.pool.Sanitizer;

/** Work at a stop besides testing and dosing, in its usual order; named under {@code visit.task.*}. */
public enum ServiceTask {

	SKIMMED, BRUSHED, VACUUMED, BASKETS_EMPTIED, TILE_CLEANED, FILTER_CLEANED, FILTER_BACKWASHED, WATER_LEVEL_SET,
	/** Only where there is a salt cell. */
	CELL_CHECKED,
	PUMP_CHECKED, DRAIN_COVER_CHECKED, GATE_LOCKED;

	public boolean appliesTo(Sanitizer sanitizer) {
		return this != CELL_CHECKED || sanitizer == Sanitizer.SALT_CELL;
	}

}
