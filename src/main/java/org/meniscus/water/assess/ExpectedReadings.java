package org.meniscus.water.assess;

import java.util.Objects;

import org.jspecify.annotations.Nullable;

/**
 * What the record lets expect of today's readings, before anything is tested.
 *
 * @param slow levels by mass balance: the newest test with what was dosed and replaced since
 * @param fcReached FC that the last visit left at most, as tested plus all chlorine that went in, ppm; null when it cannot be told
 * @param days since that visit
 */
public record ExpectedReadings(LastKnownLevels slow, @Nullable Double fcReached, int days) {

	private static final ExpectedReadings NONE = new ExpectedReadings(LastKnownLevels.none(), null, 0);

	public ExpectedReadings {
		Objects.requireNonNull(slow);
	}

	/** Nothing is on record. */
	public static ExpectedReadings none() {
		return NONE;
	}

}
