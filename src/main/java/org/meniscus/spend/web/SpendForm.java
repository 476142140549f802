package org.meniscus.spend.web;

import java.time.LocalDate;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.meniscus.spend.SpendBreakdown;
import org.springframework.validation.Errors;

/** Which days, and cut how; everything may be missing. */
record SpendForm(@Nullable LocalDate from, @Nullable LocalDate to, @Nullable String by) {

	private static final int MAX_YEARS = 10;

	/** The last twelve months where nothing was asked for. */
	SpendForm withDefaults(LocalDate today) {
		LocalDate end = (to != null) ? to : today;
		return new SpendForm((from != null) ? from : end.withDayOfMonth(1).minusMonths(11), end, by);
	}

	void validate(Errors errors) {
		if (from != null && to != null && from.isAfter(to)) {
			errors.rejectValue("to", "spend.to.beforeFrom");
		}
		else if (from != null && to != null && from.plusYears(MAX_YEARS).isBefore(to)) {
			errors.rejectValue("from", "spend.from.tooLong", new Object[]{ MAX_YEARS }, null);
		}
		else if (from != null && (from.getYear() < 2000 || from.getYear() > 2200)) {
			errors.rejectValue("from", "spend.year");
		}
		else if (to != null && (to.getYear() < 2000 || to.getYear() > 2200)) {
			errors.rejectValue("to", "spend.year");
		}
	}

	/** Months when nothing, or nothing known, was asked for. */
	SpendBreakdown breakdown() {
		for (SpendBreakdown cut : SpendBreakdown.values()) {
			if (by != null && cut.urlValue().equals(by.toLowerCase(Locale.ROOT))) {
				return cut;
			}
		}
		return SpendBreakdown.MONTH;
	}

}
