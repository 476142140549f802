package org.meniscus.client;

import org.jspecify.annotations.Nullable;

/**
 * What a pool's volume is worked out from, in metres: length × width × average depth × shape factor. The bottom is taken to
 * slope evenly from the shallow to the deep end.
 *
 * @param length 0.5 to 100 m; of a round pool the diameter
 * @param width 0.5 to 100 m; of a round pool the diameter; of a kidney the wide end
 * @param narrowWidth width of a kidney's narrow end, null for every other shape; not more than the width
 * @param shallowDepth 0.2 to 10 m of water
 * @param deepDepth 0.2 to 10 m of water, not less than shallow
 */
public record PoolDimensions(PoolShape shape, double length, double width, @Nullable Double narrowWidth, double shallowDepth,
		double deepDepth) {

	public static final double SIDE_MIN = 0.5;

	public static final double SIDE_MAX = 100;

	public static final double DEPTH_MIN = 0.2;

	public static final double DEPTH_MAX = 10;

	/** @throws IllegalArgumentException when a measure is out of range or does not go with the shape */
	public PoolDimensions {
		Preconditions.checkRange("length", length, SIDE_MIN, SIDE_MAX);
		Preconditions.checkRange("width", width, SIDE_MIN, SIDE_MAX);
		Preconditions.checkRange("narrow", narrowWidth, SIDE_MIN, width);
		Preconditions.checkRange("shallow", shallowDepth, DEPTH_MIN, deepDepth);
		Preconditions.checkRange("deep", deepDepth, DEPTH_MIN, DEPTH_MAX);
		if ((narrowWidth != null) != (shape == PoolShape.KIDNEY)) {
			throw new IllegalArgumentException("a second width belongs to a kidney, and to no other shape");
		}
		if (shape == PoolShape.ROUND && length != width) {
			throw new IllegalArgumentException("a round pool has one diameter");
		}
	}

	public static PoolDimensions round(double diameter, double shallow, double deep) {
		return new PoolDimensions(PoolShape.ROUND, diameter, diameter, null, shallow, deep);
	}

	/** Width that counts: of a kidney the mean of its ends. Metres. */
	public double meanWidth() {
		return (narrowWidth != null) ? (width + narrowWidth) / 2 : width;
	}

	/** Metres. */
	public double averageDepth() {
		return (shallowDepth + deepDepth) / 2;
	}

	/** Water surface in square metres. */
	public double area() {
		return length * meanWidth() * shape.factor();
	}

	/** Litres. */
	public double volumeLitres() {
		return area() * averageDepth() * 1000;
	}

}
