package org.meniscus.water.pool;

/**
 * Precision of one test of a level by one method. A reading's variance is {@code (relative × level)² + absolute² + step²/12} (the last
 * is the variance of rounding to marks), in the level's unit; what one person reads too high or too low throughout comes on top.
 * Sources: drops and marks are those printed on kits (from memory), every other figure is an assumption of the size that the trade
 * tells (CYA by eye within 10 to 15 ppm or 15 %: common practice, no source).
 *
 * @param relative standard deviation in proportion to the level, fraction
 * @param absolute standard deviation at any level, in the level's unit
 * @param step between neighbouring marks or drops that the reading is rounded to, in the level's unit
 * @param bias standard deviation between persons, fraction of the level
 */
public record TestPrecision(double relative, double absolute, double step, double bias) {

	/** Free and total chlorine or bromine by counted drops (FAS-DPD): 6 % and 0.15 ppm, drops of 0.2 or 0.5 ppm within the latter. */
	public static final TestPrecision CHLORINE_TITRATION = new TestPrecision(0.06, 0.15, 0, 0);

	/** Combined chlorine by the same: 0.2 ppm, about one drop. */
	public static final TestPrecision COMBINED_CHLORINE_TITRATION = new TestPrecision(0, 0.2, 0, 0);

	/** PH by comparing colours: 0.1. */
	public static final TestPrecision COLOUR_COMPARISON = new TestPrecision(0, 0.1, 0, 0);

	/** CYA by the depth at which a mark disappears: 11 % and 4 ppm, marks 5 to 10 ppm apart, persons 6 % apart. */
	public static final TestPrecision TURBIDITY_TUBE = new TestPrecision(0.11, 4, 8, 0.06);

	/** CYA by turbidity in a photometer: 7 % and 4 ppm, persons 6 % apart. */
	public static final TestPrecision PHOTOMETER = new TestPrecision(0.07, 4, 1, 0.06);

	/** Salt or TDS by a conductivity meter: 4 % and 50 ppm, meters 3 % apart. */
	public static final TestPrecision CONDUCTIVITY = new TestPrecision(0.04, 50, 50, 0.03);

	/** Borate by strip: 12 % and 3 ppm, persons 3 % apart. */
	public static final TestPrecision STRIP = new TestPrecision(0.12, 3, 5, 0.03);

	/** TA or CH by the usual drops of 10 ppm (25 mL of sample). */
	public static final TestPrecision TITRATION = titration(10);

	/** Phosphate by comparing colours, ppb: 10 % and 50 ppb, steps of 100 to 250 ppb, persons 5 % apart. */
	public static final TestPrecision PHOSPHATE_COLOUR = new TestPrecision(0.1, 50, 200, 0.05);

	/** Copper or iron by comparing colours: 10 % and 0.05 ppm, steps of 0.1 to 0.2 ppm. */
	public static final TestPrecision METAL_COLOUR = new TestPrecision(0.1, 0.05, 0.15, 0);

	/** Manganese by comparing colours: 10 % and 0.03 ppm, steps of 0.05 to 0.1 ppm. */
	public static final TestPrecision MANGANESE_COLOUR = new TestPrecision(0.1, 0.03, 0.1, 0);

	/** Ammonia by comparing colours: 10 % and 0.1 ppm, steps of 0.25 ppm. */
	public static final TestPrecision AMMONIA_COLOUR = new TestPrecision(0.1, 0.1, 0.25, 0);

	/** @throws IllegalArgumentException for a figure below zero, or when all are zero */
	public TestPrecision {
		if (!(relative >= 0 && absolute >= 0 && step >= 0 && bias >= 0 && relative + absolute + step > 0)) {
			throw new IllegalArgumentException("not a precision: " + relative + ", " + absolute + ", " + step + ", " + bias);
		}
	}

	/** TA or CH by counted drops of so many ppm: 3.5 % and 0.6 drop, persons 3 % apart. */
	public static TestPrecision titration(double dropPpm) {
		return new TestPrecision(0.035, 0.6 * dropPpm, dropPpm, 0.03);
	}

	/** Of a sample that holds one part of pool water in so many: what the test shows is multiplied, and its error with it. */
	TestPrecision diluted(int parts) {
		return (parts == 1) ? this : new TestPrecision(this.relative, parts * this.absolute, parts * this.step, this.bias);
	}

	/**
	 * By the usual field test, where nobody has recorded which one was used.
	 *
	 * @throws IllegalArgumentException for a level that is worked out, or that no dose is worked out for
	 */
	public static TestPrecision usual(Level level) {
		return switch (level) {
			case FC, TC, BROMINE -> CHLORINE_TITRATION;
			case CC -> COMBINED_CHLORINE_TITRATION;
			case PH -> COLOUR_COMPARISON;
			case TA, CH -> TITRATION;
			case CYA -> TURBIDITY_TUBE;
			case SALT, TDS -> CONDUCTIVITY;
			case BORATE -> STRIP;
			case PHOSPHATE -> PHOSPHATE_COLOUR;
			case COPPER, IRON -> METAL_COLOUR;
			case MANGANESE -> MANGANESE_COLOUR;
			case AMMONIA -> AMMONIA_COLOUR;
			case TEMPERATURE, HOCL, SATURATION_INDEX ->
				throw new IllegalArgumentException("no precision is known of a test of " + level);
		};
	}

	/** Of readings by the same person, in the level's unit squared. */
	public double repeatabilityVariance(double level) {
		double part = relative * Math.max(0, level);
		return part * part + absolute * absolute + step * step / 12;
	}

	/** Of readings by any person, in the level's unit squared. */
	public double variance(double level) {
		double part = bias * Math.max(0, level);
		return repeatabilityVariance(level) + part * part;
	}

	/** Of readings by any person, in the level's unit. */
	public double standardDeviation(double level) {
		return Math.sqrt(variance(level));
	}

}
