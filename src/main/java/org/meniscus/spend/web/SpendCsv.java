package org.meniscus.spend.web;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Currency;
import java.util.List;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.jspecify.annotations.Nullable;
import org.meniscus.spend.DoseCost;
import org.meniscus.spend.Spend;
import org.meniscus.spend.SpendBreakdown;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** Spend as comma-separated text: RFC 4180, lines end with CR LF. Money in major units; empty where no price was on file. */
final class SpendCsv {

	private static final BigDecimal GRAMS_PER_POUND = BigDecimal.valueOf(Mass.GRAMS_PER_POUND);

	private static final BigDecimal ML_PER_GALLON = BigDecimal.valueOf(1000 * Volume.LITRES_PER_US_GALLON);

	private static final BigDecimal THOUSAND = new BigDecimal(1000);

	private SpendCsv() {
	}

	/** Every dose, one a line. */
	static void doses(Appendable out, List<DoseCost> doses, UnitSystem units, Currency currency) throws IOException {
		try (CSVPrinter csv = new CSVPrinter(out, CSVFormat.RFC4180)) {
			csv.printRecord("day", "client", "pool", "technician", "product", "amount", "unit", "cost", "currency", "visit");
			for (DoseCost dose : doses) {
				csv.printRecord(dose.day(), text(dose.client()), text(dose.pool()), text(dose.technician()), text(dose.product()),
						amount(dose, units), unit(dose, units), money(dose.cents(), currency), currency.getCurrencyCode(),
						dose.visit());
			}
		}
	}

	/** One cut, one part a line; the sum of its costs is the total. */
	static void breakdown(Appendable out, Spend spend, SpendBreakdown cut, Currency currency) throws IOException {
		try (CSVPrinter csv = new CSVPrinter(out, CSVFormat.RFC4180)) {
			if (cut == SpendBreakdown.POOL) {
				csv.printRecord("client", "pool", "doses", "doses without price", "cost", "currency", "fee", "left");
			}
			else {
				csv.printRecord(cut.urlValue(), "doses", "doses without price", "cost", "currency");
			}
			for (Spend.BreakdownLine part : spend.by(cut)) {
				String name = (part.month() != null) ? part.month().toString().substring(0, 7) : text(part.name());
				if (cut == SpendBreakdown.POOL) {
					csv.printRecord(text((part.clientName() != null) ? part.clientName() : ""), name, part.sum().doses(),
							part.sum().unpriced(), money(part.sum().cents(), currency), currency.getCurrencyCode(),
							money(part.fee(), currency), money(part.feeLeft(), currency));
				}
				else {
					csv.printRecord(name, part.sum().doses(), part.sum().unpriced(), money(part.sum().cents(), currency),
							currency.getCurrencyCode());
				}
			}
		}
	}

	/** A cell that a spreadsheet would take for a formula is made plain text. */
	static String text(String cell) {
		return (!cell.isEmpty() && "=+-@\t\r".indexOf(cell.charAt(0)) >= 0) ? "'" + cell : cell;
	}

	private static @Nullable String money(@Nullable Number cents, Currency currency) {
		return (cents != null) ? BigDecimal.valueOf(cents.longValue(), currency.getDefaultFractionDigits()).toPlainString() : null;
	}

	private static String amount(DoseCost dose, UnitSystem units) {
		BigDecimal divisor = (units == UnitSystem.METRIC) ? THOUSAND : dose.liquid() ? ML_PER_GALLON : GRAMS_PER_POUND;
		return dose.amount().divide(divisor, 4, RoundingMode.HALF_UP).toPlainString();
	}

	private static String unit(DoseCost dose, UnitSystem units) {
		if (units == UnitSystem.METRIC) {
			return dose.liquid() ? "L" : "kg";
		}
		return dose.liquid() ? "gal" : "lb";
	}

}
