package org.meniscus.water.drift;

/**
 * What one reading of a level is worth: the standard deviation is the root of {@code (relative × level)² + absolute² + step²/12},
 * in the level's unit.
 *
 * @param relative share of the level
 * @param absolute in the level's unit
 * @param step between neighbouring marks of the test, which the reading is rounded to
 * @param bias standard deviation of what one person reads too high or too low throughout, share of the level
 */
public record ReadingError(double relative, double absolute, double step, double bias) {

	/** CYA by the depth at which a mark disappears. Assumption: 11 % and 4 ppm, marks 5 to 10 ppm apart, technicians 6 % apart. */
	public static final ReadingError TURBIDITY_TUBE = new ReadingError(0.11, 4, 8, 0.06);

	/** CYA by turbidity in a photometer. Assumption: 7 % and 4 ppm, technicians 6 % apart. */
	public static final ReadingError PHOTOMETER = new ReadingError(0.07, 4, 1, 0.06);

	/** Salt or TDS by conductivity. Assumption: 4 % and 50 ppm, meters 3 % apart. */
	public static final ReadingError CONDUCTIVITY = new ReadingError(0.04, 50, 50, 0.03);

	/** Borate by strip or drops. Assumption: 12 % and 3 ppm. */
	public static final ReadingError BORATE = new ReadingError(0.12, 3, 5, 0.03);

	public ReadingError {
		if (!(relative >= 0 && absolute >= 0 && step >= 0 && bias >= 0 && relative + absolute + step > 0)) {
			throw new IllegalArgumentException("not a reading's error: " + relative + ", " + absolute + ", " + step + ", " + bias);
		}
	}

	/** CH by counted drops of so many ppm. Assumption: 3.5 % and 0.6 drop, technicians 3 % apart. */
	public static ReadingError titration(double dropPpm) {
		return new ReadingError(0.035, 0.6 * dropPpm, dropPpm, 0.03);
	}

	double variance(double level) {
		double part = relative * Math.max(0, level);
		return part * part + absolute * absolute + step * step / 12;
	}

}
