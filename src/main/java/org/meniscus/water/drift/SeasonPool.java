package org.meniscus.water.drift;

import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;

/**
 * What a company has on file about a pool. Volume and area as recorded: the engine takes both for estimates.
 *
 * @param volume cubic metres; null when not known, then no dose can be turned into a change of level
 * @param area of the surface, square metres; null when not known
 * @param newPlaster plastered within the last weeks: it gives off calcium
 * @param autofill a float valve keeps the level; otherwise filled by hand
 * @param fill levels in the fill water on record, ppm; absent where nobody has tested it
 * @param ranges only {@code acceptableLow} and {@code acceptableHigh} count; a level without a range is followed but never
 * flagged
 * @param tabletCyaLimit CYA from which the plans of the service put no more tablets in, ppm; null where no plan decides on them
 */
public record SeasonPool(@Nullable Double volume, @Nullable Double area, boolean plaster, boolean newPlaster, boolean autofill,
		boolean sandFilter, boolean cover, Map<Level, Double> fill, Map<Level, Range> ranges,
		@Nullable Double tabletCyaLimit) {

	public SeasonPool {
		fill = Map.copyOf(fill);
		ranges = Map.copyOf(ranges);
		if ((volume != null && !(volume > 0)) || (area != null && !(area > 0))) {
			throw new IllegalArgumentException("not a pool: " + volume + " m3, " + area + " m2");
		}
	}

}
