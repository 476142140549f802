package org.meniscus.water.assess;

import java.util.Objects;

import org.jspecify.annotations.Nullable;

/**
 * What the record lets expect of today's readings, before anything is tested.
 *
 * @param lastKnown levels by mass balance: the newest test with what was dosed and replaced since
 * @param fcAfterLastVisit FC that the last visit left at most, as tested plus all chlorine that went in, ppm; null when unknown
 * @param daysSinceVisit since that visit
 */
public record ExpectedReadings(LastKnownLevels lastKnown, @Nullable Double fcAfterLastVisit, int daysSinceVisit) {

	private static final ExpectedReadings NONE = new ExpectedReadings(LastKnownLevels.none(), null, 0);

	public ExpectedReadings {
		Objects.requireNonNull(lastKnown);
	}

	/** Nothing is on record. */
	public static ExpectedReadings none() {
		return NONE;
	}

}
