package org.meniscus.water.pool;

import org.jspecify.annotations.Nullable;

/**
 * What gauges and panels show at a stop, and what has happened to the pool since the last one.
 *
 * @param filterKilopascals pressure before the filter, pump running; null = not read
 * @param cellPercent setting that the panel of the cell shows, 0 to 100; null = not read
 * @param cellSalt salt that the panel of the cell shows, ppm; null = not read
 * @param heavyRain heavy rain since the last visit
 * @param party many more bathers than usual since the last visit
 */
public record SiteConditions(@Nullable Double filterKilopascals, @Nullable Double cellPercent, @Nullable Double cellSalt,
		boolean heavyRain, boolean party) {

	public static final SiteConditions NONE = new SiteConditions(null, null, null, false, false);

	/** The time since the last visit says little of usual weeks. */
	public boolean unusual() {
		return this.heavyRain || this.party;
	}

}
