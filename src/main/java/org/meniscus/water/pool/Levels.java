package org.meniscus.water.pool;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/** Every known level of a water at one moment, worked-out ones (HOCl, saturation index) included; what is unknown is absent. */
public record Levels(Map<Level, Double> values) {

	public Levels {
		Map<Level, Double> copy = new EnumMap<>(Level.class);
		copy.putAll(values);
		values = Collections.unmodifiableMap(copy);
	}

	public @Nullable Double value(Level level) {
		return this.values.get(level);
	}

	/** The value, or another one where unknown. */
	public double value(Level level, double otherwise) {
		Double value = this.values.get(level);
		return (value != null) ? value : otherwise;
	}

}
