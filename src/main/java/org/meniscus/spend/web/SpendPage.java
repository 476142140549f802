package org.meniscus.spend.web;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Currency;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.meniscus.spend.Spend;
import org.meniscus.spend.Spend.BreakdownLine;
import org.meniscus.spend.SpendBreakdown;
import org.meniscus.ui.QuantityFormatter;

/**
 * The spend page, formatted.
 *
 * @param fees what pools with a fee on file pay over these days, and what chemicals they took; null when no pool has a fee
 * @param shareOfFees whole percent
 */
record SpendPage(String from, String to, SpendBreakdown breakdown, String total, long doses, long unpriced,
		List<Spend.UnpricedProduct> unpricedProducts,
		List<SpendRow> rows, @Nullable String fees, @Nullable String chemicalsOfFees, @Nullable Long shareOfFees, @Nullable String left,
		long poolsWithoutFee) {

	/**
	 * One line.
	 *
	 * @param bar share of the total, 0 to 100, for drawing
	 * @param percent of the total
	 */
	record SpendRow(String name, @Nullable String clientName, @Nullable String href, long doses, long unpriced, String cost, long bar,
			String percent, @Nullable String fee, @Nullable String left, boolean overspent) {
	}

	static SpendPage of(Spend spend, SpendBreakdown cut, Currency currency) {
		List<BreakdownLine> parts = spend.by(cut);
		long total = spend.total().cents();
		List<SpendRow> rows = parts.stream().map(part -> row(part, cut, spend, currency, total)).toList();
		List<BreakdownLine> paying = spend.by(SpendBreakdown.POOL).stream().filter(part -> part.fee() != null).toList();
		long fees = paying.stream().mapToLong(part -> (part.fee() != null) ? part.fee() : 0).sum();
		long used = paying.stream().mapToLong(part -> part.sum().cents()).sum();
		return new SpendPage(QuantityFormatter.date(spend.from(), Locale.US), QuantityFormatter.date(spend.to(), Locale.US), cut,
				QuantityFormatter.money(total, currency), spend.total().doses(), spend.total().unpriced(), spend.unpriced(), rows,
				paying.isEmpty() ? null : QuantityFormatter.money(fees, currency),
				paying.isEmpty() ? null : QuantityFormatter.money(used, currency),
				(fees > 0) ? Math.round(100.0 * used / fees) : null,
				paying.isEmpty() ? null : QuantityFormatter.money(fees - used, currency),
				spend.by(SpendBreakdown.POOL).size() - paying.size());
	}

	private static SpendRow row(BreakdownLine part, SpendBreakdown cut, Spend spend, Currency currency, long total) {
		long cents = part.sum().cents();
		Long left = part.feeLeft();
		return new SpendRow(name(part), part.clientName(), href(part, cut, spend), part.sum().doses(), part.sum().unpriced(),
				QuantityFormatter.money(cents, currency), (total > 0) ? Math.round(100.0 * cents / total) : 0,
				(total > 0) ? String.format(Locale.US, "%.1f %%", 100.0 * cents / total) : "–",
				(part.fee() != null) ? QuantityFormatter.money(part.fee(), currency) : null,
				(left != null) ? QuantityFormatter.money(left, currency) : null, left != null && left < 0);
	}

	private static String name(BreakdownLine part) {
		return (part.month() != null) ? part.month().format(DateTimeFormatter.ofPattern("MMMM yyyy", Locale.US)) : part.name();
	}

	private static @Nullable String href(BreakdownLine part, SpendBreakdown cut, Spend spend) {
		return switch (cut) {
			case MONTH -> (part.month() != null) ? "/spend?by=pool&from=" + later(part.month(), spend.from()) + "&to="
					+ earlier(part.month().plusMonths(1).minusDays(1), spend.to()) : null;
			case POOL -> "/pools/" + part.id();
			case CLIENT -> "/clients/" + part.id();
			case TECHNICIAN, PRODUCT -> null;
		};
	}

	private static LocalDate later(LocalDate one, LocalDate other) {
		return one.isAfter(other) ? one : other;
	}

	private static LocalDate earlier(LocalDate one, LocalDate other) {
		return one.isBefore(other) ? one : other;
	}

}
