package org.meniscus.ui;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.NumberFormat;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.Currency;
import java.util.Locale;

import org.meniscus.water.explain.Wording;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** Quantities as a page prints them, in the company's units. Inside, everything is litres, grams, millilitres, Celsius, cents. */
public final class QuantityFormatter {

	private QuantityFormatter() {
	}

	/** A pool's volume: "15,000 gal" or "56.8 m³"; small ones in litres. As in sentences, with the thousands set apart. */
	public static String volume(UnitSystem units, double litres) {
		return Wording.volume(litres, units).replaceAll("(?<=\\d)(?=(\\d{3})+(?!\\d))", ",");
	}

	/** An amount of a solid or a liquid. */
	public static String amount(UnitSystem units, AmountUnit unit, double amount) {
		return (unit == AmountUnit.G) ? grams(units, amount) : millilitres(units, amount);
	}

	/** An amount of a solid. */
	public static String grams(UnitSystem units, double grams) {
		if (units == UnitSystem.US) {
			return (grams >= Mass.GRAMS_PER_POUND) ? decimal(grams / Mass.GRAMS_PER_POUND, 2) + " lb"
					: decimal(grams / Mass.GRAMS_PER_OUNCE, 1) + " oz";
		}
		return (grams >= 1000) ? decimal(grams / 1000, 2) + " kg" : decimal(grams, 0) + " g";
	}

	/** An amount of a liquid. */
	public static String millilitres(UnitSystem units, double millilitres) {
		if (units == UnitSystem.US) {
			double fluidOunces = millilitres / Volume.MILLILITRES_PER_US_FLUID_OUNCE;
			return (fluidOunces >= 128) ? decimal(fluidOunces / 128, 2) + " gal" : decimal(fluidOunces, 1) + " fl oz";
		}
		return (millilitres >= 1000) ? decimal(millilitres / 1000, 2) + " L" : decimal(millilitres, 0) + " mL";
	}

	public static String temperature(UnitSystem units, double celsius) {
		return (units == UnitSystem.US) ? decimal(Temperature.ofCelsius(celsius).fahrenheit(), 0) + " °F" : decimal(celsius, 1) + " °C";
	}

	/** Money in the company's currency, always with its minor units. */
	public static String money(long cents, Currency currency) {
		NumberFormat format = NumberFormat.getCurrencyInstance(Locale.US);
		format.setCurrency(currency);
		format.setMinimumFractionDigits(currency.getDefaultFractionDigits());
		format.setMaximumFractionDigits(currency.getDefaultFractionDigits());
		return format.format(BigDecimal.valueOf(cents, currency.getDefaultFractionDigits()));
	}

	/** "Wed, Nov 25" in the reader's language. */
	public static String weekdayAndDate(LocalDate date, Locale locale) {
		return date.format(DateTimeFormatter.ofPattern(locale.getLanguage().equals("es") ? "EEE d MMM" : "EEE, MMM d", locale));
	}

	/** "Nov 25, 2026" in the reader's language. */
	public static String date(LocalDate date, Locale locale) {
		return date.format(DateTimeFormatter.ofPattern(locale.getLanguage().equals("es") ? "d MMM yyyy" : "MMM d, yyyy", locale));
	}

	/** "2:10 PM", in Spanish "14:10". */
	public static String time(LocalTime time, Locale locale) {
		return time.format(DateTimeFormatter.ofPattern(locale.getLanguage().equals("es") ? "HH:mm" : "h:mm a", locale));
	}

	/** At most so many decimals, without trailing zeros: 1.50 is "1.5". */
	public static String decimal(double value, int decimals) {
		BigDecimal rounded = BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP).stripTrailingZeros();
		return (rounded.scale() < 0) ? rounded.setScale(0).toPlainString() : rounded.toPlainString();
	}

}
