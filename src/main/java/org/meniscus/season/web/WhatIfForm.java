package org.meniscus.season.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Currency;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.DecimalParser;
import org.meniscus.season.WhatIfService;
import org.meniscus.water.product.DoseKind;

/** What one asks of a pool's season, as typed; everything may be empty. */
record WhatIfForm(@Nullable String chlorine, @Nullable String drain, @Nullable String fillCh, @Nullable String cell) {

	/** Shares of the water offered, percent. */
	static final List<Integer> DRAIN_PERCENTS = List.of(10, 20, 25, 30, 40, 50, 60, 75, 90);

	static final List<DoseKind> CHLORINE_PRODUCTS = Arrays.stream(DoseKind.values()).filter(DoseKind::routine).toList();

	private static final BigDecimal MAX_FILL_CH = BigDecimal.valueOf(2000);

	private static final BigDecimal MAX_CELL_PRICE = BigDecimal.valueOf(100_000);

	/** @param invalidFields names of fields that could not be read; what they ask is left out */
	record ParsedQuestion(WhatIfService.WhatIfQuestion question, List<String> invalidFields) {
	}

	ParsedQuestion parse(Currency currency) {
		List<String> wrong = new ArrayList<>();
		DoseKind kind = CHLORINE_PRODUCTS.stream().filter(each -> each.name().equals(chlorine)).findFirst().orElse(null);
		Integer percent = DRAIN_PERCENTS.stream().filter(each -> each.toString().equals(drain)).findFirst().orElse(null);
		BigDecimal hardness = number(fillCh, MAX_FILL_CH, "fillCh", wrong);
		BigDecimal price = number(cell, MAX_CELL_PRICE, "cell", wrong);
		return new ParsedQuestion(new WhatIfService.WhatIfQuestion(kind, (percent != null) ? Double.valueOf(percent / 100.0) : null,
				(hardness != null) ? Double.valueOf(hardness.doubleValue()) : null,
				(price != null) ? Long.valueOf(price.movePointRight(Math.max(0, currency.getDefaultFractionDigits())).longValue()) : null),
				wrong);
	}

	private static @Nullable BigDecimal number(@Nullable String text, BigDecimal most, String field, List<String> wrong) {
		if (text == null || text.isBlank()) {
			return null;
		}
		try {
			BigDecimal number = DecimalParser.parse(text);
			if (number.signum() >= 0 && number.compareTo(most) <= 0) {
				return number;
			}
		}
		catch (NumberFormatException ex) {
			// said beside the field
		}
		wrong.add(field);
		return null;
	}

}
