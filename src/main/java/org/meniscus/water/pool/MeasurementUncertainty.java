package org.meniscus.water.pool;

/** Standard uncertainty of a level after dosing: of the test before it and of the recorded volume, taken as independent. */
public final class MeasurementUncertainty {

	/**
	 * Of a level that was read and then moved by a dose worked out with the recorded volume, in the level's unit.
	 *
	 * @throws IllegalArgumentException as {@link TestPrecision#usual}
	 */
	public static double after(TestMethods tests, Level level, double read, double change, VolumeCertainty certainty) {
		return Math.hypot(tests.precision(level).standardDeviation(read), change * volume(certainty));
	}

	/** Of the volume on record, fraction of it. Common practice, no source. */
	private static double volume(VolumeCertainty certainty) {
		return switch (certainty) {
			case MEASURED -> 0.03;
			case CALCULATED -> 0.08;
			case ESTIMATED, UNVERIFIED -> 0.17;
		};
	}

	private MeasurementUncertainty() {
	}

}
