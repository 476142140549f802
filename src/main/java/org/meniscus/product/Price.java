package org.meniscus.product;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/**
 * What a package costs from a day on, until the next price.
 *
 * @param cents minor units of the company's currency, not negative
 * @param typical came with the starter list and is nobody's invoice yet
 * @param packageAmount grams or millilitres the price is for, when the product has come in another package since; else null
 */
public record Price(LocalDate validFrom, int cents, boolean typical, @Nullable Double packageAmount) {

	public static final int CENTS_MAX = 1_000_000_000;

	public Price {
		if (cents < 0 || cents > CENTS_MAX) {
			throw new IllegalArgumentException("not a price: " + cents);
		}
	}

	/** Of the package the product comes in now. */
	public Price(LocalDate validFrom, int cents, boolean typical) {
		this(validFrom, cents, typical, null);
	}

	/** What so much would cost at this price: for comparing, rounded half up. */
	int centsForPackage(double packageNow) {
		return (packageAmount != null) ? (int) Math.min(CENTS_MAX, Math.round(cents * packageNow / packageAmount)) : cents;
	}

}
