package org.meniscus.product;

import java.time.LocalDate;

/**
 * What a package costs from a day on, until the next price.
 *
 * @param cents minor units of the company's currency, not negative
 * @param typical came with the starter list and is nobody's invoice yet
 */
public record Price(LocalDate validFrom, int cents, boolean typical) {

	public static final int CENTS_MAX = 1_000_000_000;

	public Price {
		if (cents < 0 || cents > CENTS_MAX) {
			throw new IllegalArgumentException("not a price: " + cents);
		}
	}

}
