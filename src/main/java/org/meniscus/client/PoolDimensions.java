package org.meniscus.client;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;

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

	/** What is measured, with its limits in metres: both ends are allowed. */
	public enum Measure {

		LENGTH(0.5, 100), WIDTH(0.5, 100), NARROW_WIDTH(0.5, 100), SHALLOW_DEPTH(0.2, 10), DEEP_DEPTH(0.2, 10);

		private final double min;

		private final double max;

		Measure(double min, double max) {
			this.min = min;
			this.max = max;
		}

		public double min() {
			return min;
		}

		public double max() {
			return max;
		}

		public boolean belongsTo(PoolShape shape) {
			return switch (this) {
				case WIDTH -> shape != PoolShape.ROUND;
				case NARROW_WIDTH -> shape == PoolShape.KIDNEY;
				default -> true;
			};
		}

	}

	/** @throws IllegalArgumentException when a measure is out of range or does not go with the shape */
	public PoolDimensions {
		Preconditions.checkRange("length", length, Measure.LENGTH.min, Measure.LENGTH.max);
		Preconditions.checkRange("width", width, Measure.WIDTH.min, Measure.WIDTH.max);
		Preconditions.checkRange("narrow", narrowWidth, Measure.NARROW_WIDTH.min, width);
		Preconditions.checkRange("shallow", shallowDepth, Measure.SHALLOW_DEPTH.min, deepDepth);
		Preconditions.checkRange("deep", deepDepth, Measure.DEEP_DEPTH.min, Measure.DEEP_DEPTH.max);
		if ((narrowWidth != null) != (shape == PoolShape.KIDNEY)) {
			throw new IllegalArgumentException("a second width belongs to a kidney, and to no other shape");
		}
		if (shape == PoolShape.ROUND && length != width) {
			throw new IllegalArgumentException("a round pool has one diameter");
		}
	}

	/** Measures that the shape needs and that are not there. */
	public static List<Measure> missing(PoolShape shape, Map<Measure, Double> metres) {
		return Arrays.stream(Measure.values()).filter(measure -> measure.belongsTo(shape) && !metres.containsKey(measure)).toList();
	}

	/** Measures that contradict another: a deep end less deep than the shallow one, a narrow end wider than the wide one. */
	public static List<Measure> contradictions(PoolShape shape, Map<Measure, Double> metres) {
		List<Measure> found = new ArrayList<>();
		if (exceeds(metres.get(Measure.SHALLOW_DEPTH), metres.get(Measure.DEEP_DEPTH))) {
			found.add(Measure.DEEP_DEPTH);
		}
		if (Measure.NARROW_WIDTH.belongsTo(shape) && exceeds(metres.get(Measure.NARROW_WIDTH), metres.get(Measure.WIDTH))) {
			found.add(Measure.NARROW_WIDTH);
		}
		return found;
	}

	private static boolean exceeds(@Nullable Double value, @Nullable Double limit) {
		return value != null && limit != null && value > limit;
	}

	/** @param metres every measure that the shape needs; others are left out */
	public static PoolDimensions of(PoolShape shape, Map<Measure, Double> metres) {
		double length = Objects.requireNonNull(metres.get(Measure.LENGTH));
		double width = (shape == PoolShape.ROUND) ? length : Objects.requireNonNull(metres.get(Measure.WIDTH));
		return new PoolDimensions(shape, length, width, (shape == PoolShape.KIDNEY) ? metres.get(Measure.NARROW_WIDTH) : null,
				Objects.requireNonNull(metres.get(Measure.SHALLOW_DEPTH)), Objects.requireNonNull(metres.get(Measure.DEEP_DEPTH)));
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
