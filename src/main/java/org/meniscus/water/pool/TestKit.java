package org.meniscus.water.pool;

import java.util.ArrayList;
import java.util.List;

/**
 * What a level was read with, and how precise each is with it. Drops and steps of strips are those printed on kits
 * (from memory); strips read CYA within 30 ppm and salt within 10 %, photometers chlorine within 0.1 to 0.2 ppm, as the trade tells; the
 * other figures are assumptions of the size that steps give.
 */
public enum TestKit {

	/** Counted drops in 25 mL of sample, CYA by the tube, pH by colour: the usual kit. */
	DROPS_25_ML,
	/** Counted drops in 10 mL of sample: drops of 0.5 ppm chlorine and 25 ppm TA and CH. */
	DROPS_10_ML,
	/** A photometer. */
	PHOTOMETER,
	/** Colour pads on a strip. */
	STRIPS;

	private static final TestPrecision CHLORINE_COARSE_DROPS = new TestPrecision(0.06, 0.15, 0.5, 0);

	private static final TestPrecision COMBINED_COARSE_DROPS = new TestPrecision(0, 0.2, 0.5, 0);

	private static final TestPrecision CHLORINE_PHOTOMETER = new TestPrecision(0.03, 0.15, 0, 0);

	private static final TestPrecision HARDNESS_PHOTOMETER = new TestPrecision(0.07, 7, 1, 0.03);

	private static final TestPrecision CHLORINE_STRIP = new TestPrecision(0.15, 0.3, 1, 0);

	private static final TestPrecision COMBINED_STRIP = new TestPrecision(0, 0.4, 0.5, 0);

	private static final TestPrecision PH_STRIP = new TestPrecision(0, 0.2, 0.4, 0);

	private static final TestPrecision ALKALINITY_STRIP = new TestPrecision(0.1, 15, 40, 0.03);

	private static final TestPrecision HARDNESS_STRIP = new TestPrecision(0.15, 30, 150, 0.03);

	private static final TestPrecision CYA_STRIP = new TestPrecision(0, 30, 0, 0.06);

	private static final TestPrecision SALT_STRIP = new TestPrecision(0.1, 0, 100, 0.03);

	private static final TestPrecision PHOSPHATE_PHOTOMETER = new TestPrecision(0.05, 25, 10, 0.03);

	private static final TestPrecision PHOSPHATE_STRIP = new TestPrecision(0.2, 100, 500, 0.05);

	/** Copper, iron, manganese and ammonia. */
	private static final TestPrecision TRACE_PHOTOMETER = new TestPrecision(0.05, 0.03, 0.01, 0);

	private static final TestPrecision TRACE_STRIP = new TestPrecision(0.2, 0.15, 0.3, 0);

	/**
	 * Of the test of a level with this kit.
	 *
	 * @throws IllegalArgumentException as {@link TestPrecision#usual}
	 */
	public TestPrecision precision(Level level) {
		TestPrecision usual = TestPrecision.usual(level);
		return switch (this) {
			case DROPS_25_ML -> usual;
			case DROPS_10_ML -> switch (level) {
				case FC, TC, BROMINE -> CHLORINE_COARSE_DROPS;
				case CC -> COMBINED_COARSE_DROPS;
				case TA, CH -> TestPrecision.titration(25);
				default -> usual;
			};
			case PHOTOMETER -> switch (level) {
				case FC, TC, BROMINE -> CHLORINE_PHOTOMETER;
				case TA, CH -> HARDNESS_PHOTOMETER;
				case CYA -> TestPrecision.PHOTOMETER;
				case PHOSPHATE -> PHOSPHATE_PHOTOMETER;
				case COPPER, IRON, MANGANESE, AMMONIA -> TRACE_PHOTOMETER;
				default -> usual;
			};
			case STRIPS -> switch (level) {
				case FC, TC, BROMINE -> CHLORINE_STRIP;
				case CC -> COMBINED_STRIP;
				case PH -> PH_STRIP;
				case TA -> ALKALINITY_STRIP;
				case CH -> HARDNESS_STRIP;
				case CYA -> CYA_STRIP;
				case SALT -> SALT_STRIP;
				case PHOSPHATE -> PHOSPHATE_STRIP;
				case COPPER, IRON, MANGANESE, AMMONIA -> TRACE_STRIP;
				default -> usual;
			};
		};
	}

	/** Kits that read a level differently, in their order: one stands for all that read it alike. */
	public static List<TestKit> of(Level level) {
		List<TestKit> kits = new ArrayList<>();
		for (TestKit kit : values()) {
			if (kits.stream().noneMatch(other -> other.precision(level).equals(kit.precision(level)))) {
				kits.add(kit);
			}
		}
		return kits;
	}

	/** Whether water may be replaced on a reading with it; common practice, no source. */
	public boolean decidesDrain() {
		return this != STRIPS;
	}

}
