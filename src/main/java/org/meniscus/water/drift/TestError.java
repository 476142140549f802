package org.meniscus.water.drift;

/**
 * What one reading of a level is worth: one standard deviation is {@code absolute + relative × level}, in the level's unit. It
 * keeps the bands honest where readings happen to agree.
 */
public record TestError(double absolute, double relative) {

	public TestError {
		if (!(absolute > 0) || !(relative >= 0)) {
			throw new IllegalArgumentException("not a test error: " + absolute + ", " + relative);
		}
	}

	double at(double level) {
		return absolute + relative * Math.max(0, level);
	}

}
