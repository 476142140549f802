package org.meniscus.water.pool;

/**
 * How far off a reading, a recorded volume and so a level after dosing may be: standard deviations. Tests: CYA and CH as stated for
 * tube and drop tests by test-kit makers and the trade press (10 to 15 ppm or 15 %; a drop of 10 or 25 ppm), the others common
 * practice, no source.
 */
public final class MeasurementUncertainty {

	/** Drop test of FC: 6 % and 0.15 ppm, with drops of 0.2 or 0.5 ppm. Common practice, no source. */
	private static final double FC_SHARE = 0.06;

	private static final double FC_PPM = 0.15;

	/** What one test of a level may be off, in the level's unit. */
	public static double test(Level level, double value) {
		return switch (level) {
			case FC -> Math.sqrt(FC_SHARE * value * (FC_SHARE * value) + FC_PPM * FC_PPM);
			case CC -> 0.2;
			case PH -> 0.1;
			case TA -> 6 + 0.03 * value;
			case CH -> 8 + 0.035 * value;
			case CYA -> 4 + 0.11 * value;
			case SALT -> 50 + 0.05 * value;
			case BORATE -> 3 + 0.1 * value;
			default -> 0.05 * Math.abs(value);
		};
	}

	/** What the volume on record may be off, as a share of it. */
	static double volume(VolumeCertainty certainty) {
		return switch (certainty) {
			case MEASURED -> 0.03;
			case CALCULATED -> 0.08;
			case ESTIMATED, UNVERIFIED -> 0.17;
		};
	}

	/** Of a level that was read and then moved by a dose worked out with the recorded volume. */
	public static double after(Level level, double read, double change, VolumeCertainty certainty) {
		return Math.hypot(test(level, read), change * volume(certainty));
	}

	private MeasurementUncertainty() {
	}

}
