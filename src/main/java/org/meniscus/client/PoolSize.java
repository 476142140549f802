package org.meniscus.client;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.VolumeCertainty;

/**
 * How much water a pool holds and how sure one is.
 *
 * @param volumeLitres 100 to 4,000,000, or null when not known; then nothing is dosed
 * @param areaM2 water surface in square metres, 0.5 to 10,000, or null
 * @param dimensions what the volume was worked out from, or null
 */
public record PoolSize(@Nullable Double volumeLitres, VolumeCertainty certainty, @Nullable Double areaM2,
		@Nullable PoolDimensions dimensions) {

	public static final double LITRES_MIN = 100;

	public static final double LITRES_MAX = 4_000_000;

	public static final double AREA_MIN = 0.5;

	public static final double AREA_MAX = 10_000;

	/** @throws IllegalArgumentException when a figure is out of range, or somebody is sure of a volume that is missing */
	public PoolSize {
		Preconditions.checkRange("volume", volumeLitres, LITRES_MIN, LITRES_MAX);
		Preconditions.checkRange("area", areaM2, AREA_MIN, AREA_MAX);
		if (volumeLitres == null && certainty != VolumeCertainty.UNVERIFIED) {
			throw new IllegalArgumentException("there is no volume to be sure of");
		}
	}

	/** Nobody has looked yet. */
	public static PoolSize unknown() {
		return new PoolSize(null, VolumeCertainty.UNVERIFIED, null, null);
	}

	/** Volume and area as the measures give them. */
	public static PoolSize of(PoolDimensions measures) {
		return new PoolSize(measures.volumeLitres(),
				measures.shape().exactFactor() ? VolumeCertainty.CALCULATED : VolumeCertainty.ESTIMATED, measures.area(), measures);
	}

}
