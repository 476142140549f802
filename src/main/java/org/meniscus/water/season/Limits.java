package org.meniscus.water.season;

/** Where a level should be and may be, in its own unit. Both ends of both ranges count as inside. */
public record Limits(double acceptableLow, double idealLow, double idealHigh, double acceptableHigh) {

	public Limits {
		if (!(acceptableLow <= idealLow && idealLow <= idealHigh && idealHigh <= acceptableHigh)) {
			throw new IllegalArgumentException(
					"not nested: " + acceptableLow + " " + idealLow + " " + idealHigh + " " + acceptableHigh);
		}
	}

	boolean acceptable(double level) {
		return level >= acceptableLow && level <= acceptableHigh;
	}

	boolean ideal(double level) {
		return level >= idealLow && level <= idealHigh;
	}

}
