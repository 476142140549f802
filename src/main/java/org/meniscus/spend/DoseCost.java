package org.meniscus.spend;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * One dose as it was stored.
 *
 * @param amount grams of a solid, millilitres of a liquid
 * @param cents at the price of that day, in minor units; null when none was on file
 */
public record DoseCost(LocalDate day, String client, String pool, String technician, String product, BigDecimal amount,
		boolean liquid, @Nullable Integer cents, UUID visit) {
}
