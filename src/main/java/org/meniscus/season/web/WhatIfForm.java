package org.meniscus.season.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Currency;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.DecimalParser;
import org.meniscus.season.WhatIfService;
import org.meniscus.water.drift.DoseKind;

/** What one asks of a pool's season, as typed; everything may be empty. */
record WhatIfForm(@Nullable String chlorine, @Nullable String drain, @Nullable String fillCh, @Nullable String cell) {

	/** Shares of the water offered, percent. */
	static final List<Integer> DRAINS = List.of(10, 20, 25, 30, 40, 50, 60, 75, 90);

	static final List<DoseKind> CHLORINES = Arrays.stream(DoseKind.values()).filter(DoseKind::routine).toList();

	private static final BigDecimal HARDEST = BigDecimal.valueOf(2000);

	private static final BigDecimal DEAREST = BigDecimal.valueOf(100_000);

	/** @param wrong names of fields that could not be read; what they ask is left out */
	record Read(WhatIfService.Question question, List<String> wrong) {
	}

	Read read(Currency currency) {
		List<String> wrong = new ArrayList<>();
		DoseKind kind = CHLORINES.stream().filter(each -> each.name().equals(chlorine)).findFirst().orElse(null);
		Integer percent = DRAINS.stream().filter(each -> each.toString().equals(drain)).findFirst().orElse(null);
		BigDecimal hardness = number(fillCh, HARDEST, "fillCh", wrong);
		BigDecimal price = number(cell, DEAREST, "cell", wrong);
		return new Read(new WhatIfService.Question(kind, (percent != null) ? Double.valueOf(percent / 100.0) : null,
				(hardness != null) ? Double.valueOf(hardness.doubleValue()) : null,
				(price != null) ? Long.valueOf(price.movePointRight(Math.max(0, currency.getDefaultFractionDigits())).longValue()) : null),
				wrong);
	}

	private static @Nullable BigDecimal number(@Nullable String text, BigDecimal most, String field, List<String> wrong) {
		if (text == null || text.isBlank()) {
			return null;
		}
		try {
			BigDecimal number = DecimalParser.read(text);
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
