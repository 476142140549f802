package org.meniscus.product.web;

import java.math.BigDecimal;
import java.time.LocalDate;

import jakarta.validation.constraints.NotNull;

import org.jspecify.annotations.Nullable;

/** A price of a package from a day on, in the company's currency. */
record PriceForm(@NotNull @Nullable LocalDate validFrom, @NotNull @Nullable BigDecimal price) {
}
