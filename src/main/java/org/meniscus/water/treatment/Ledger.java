package org.meniscus.water.treatment;

import java.util.Objects;

import org.jspecify.annotations.Nullable;

/**
 * What the record lets expect of today's readings, before anything is tested.
 *
 * @param slow levels by mass balance: the newest test with what was dosed and replaced since
 * @param fcReached FC that the last visit left at most, as tested plus all chlorine that went in, ppm; null when it cannot be told
 * @param days since that visit
 */
public record Ledger(Carried slow, @Nullable Double fcReached, int days) {

	private static final Ledger NONE = new Ledger(Carried.none(), null, 0);

	public Ledger {
		Objects.requireNonNull(slow);
	}

	/** Nothing is on record. */
	public static Ledger none() {
		return NONE;
	}

}
