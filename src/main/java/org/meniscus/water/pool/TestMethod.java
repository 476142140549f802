package org.meniscus.water.pool;

import java.util.Objects;

/**
 * How one level was read.
 *
 * @param dilution parts of the tested sample to each part of pool water: 1 as drawn, 2 with an equal part of plain water, which doubles what
 * the test shows and its error in the level's unit
 */
public record TestMethod(TestKit kit, int dilution) {

	/** Equal parts of pool and plain water: the usual dilution for FC and CYA above the end of a test. */
	public static final int HALF = 2;

	/** One part of pool water, four of plain water: for chlorine that bleaches the test (trade table {@code reading-bounds.csv}). */
	public static final int FIFTH = 5;

	/** @throws IllegalArgumentException for another dilution than 1, {@link #HALF} and {@link #FIFTH} */
	public TestMethod {
		Objects.requireNonNull(kit);
		if (dilution != 1 && dilution != HALF && dilution != FIFTH) {
			throw new IllegalArgumentException("not a dilution: " + dilution);
		}
	}

	/** Of the level in the pool. */
	public TestPrecision precision(Level level) {
		return this.kit.precision(level).diluted(this.dilution);
	}

}
