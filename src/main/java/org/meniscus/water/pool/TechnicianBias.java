package org.meniscus.water.pool;

import java.util.Map;

/**
 * What is known of how much too high or too low a technician reads a level, from all pools that technician tests (measurement bias).
 *
 * @param estimates by technician and level; whoever is absent is taken for an average reader
 */
public record TechnicianBias(Map<Key, Estimate> estimates) {

	public static final TechnicianBias NONE = new TechnicianBias(Map.of());

	public TechnicianBias {
		estimates = Map.copyOf(estimates);
	}

	public record Key(String technician, Level level) {
	}

	/** Natural logarithm of read over true: normal with this mean and standard deviation. */
	public record Estimate(double mean, double deviation) {
	}

}
