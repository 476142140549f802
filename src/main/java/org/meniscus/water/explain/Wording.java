package org.meniscus.water.explain;

import java.util.Locale;

import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** Turns codes and terms into words with the reader's texts and units. No locale: a decimal point always, no grouping surprises. */
public final class Wording {

	/** The reader's message texts; arguments are already words. */
	@FunctionalInterface
	public interface Texts {

		String text(String key, Object... args);

	}

	/** Pound-force per square inch: 0.45359237 kg, 9.80665 m/s², 25.4 mm, all exact. */
	public static final double KILOPASCALS_PER_PSI = 6.894757293168361;

	public static final double KILOPASCALS_PER_BAR = 100;

	private Wording() {
	}

	public static String format(Reason reason, UnitSystem units, Texts texts) {
		Object[] args = new Object[reason.args().size()];
		for (int i = 0; i < args.length; i++) {
			args[i] = format(reason.args().get(i), units, texts);
		}
		return texts.text(reason.key(), args);
	}

	public static String format(Term term, UnitSystem units, Texts texts) {
		if (term instanceof Term.Value value) {
			return qualifier(value.qualifier()) + level(value.level(), value.value(), units);
		}
		if (term instanceof Term.Difference difference) {
			return difference(difference.level(), difference.amount(), units);
		}
		if (term instanceof Term.Number number) {
			return decimal(number.value(), number.decimals());
		}
		if (term instanceof Term.Share share) {
			return percent(share.share()) + " %";
		}
		if (term instanceof Term.Hours hours) {
			return hours(hours.hours(), texts);
		}
		if (term instanceof Term.Days days) {
			return texts.text((days.days() == 1) ? "water.time.day" : "water.time.days", decimal(days.days(), 0));
		}
		if (term instanceof Term.WaterVolume water) {
			return volume(water.litres(), units);
		}
		if (term instanceof Term.Amount amount) {
			return amount(amount.amount(), texts);
		}
		if (term instanceof Term.Chlorine chlorine) {
			return chlorine(chlorine.grams(), units);
		}
		if (term instanceof Term.Pressure pressure) {
			return (units == UnitSystem.US) ? decimal(pressure.kilopascals() / KILOPASCALS_PER_PSI, 0) + " psi"
					: decimal(pressure.kilopascals() / KILOPASCALS_PER_BAR, 2) + " bar";
		}
		if (term instanceof Term.Word word) {
			return texts.text(word.key());
		}
		if (term instanceof Term.Clause clause) {
			return format(clause.reason(), units, texts);
		}
		if (term instanceof Term.Words list) {
			StringBuilder words = new StringBuilder();
			for (String key : list.keys()) {
				words.append((words.length() > 0) ? ", " : "").append(texts.text(key));
			}
			return words.toString();
		}
		return ((Term.Text) term).text();
	}

	/** In pounds and grams; of the little that a spa takes, ounces and tenths of a gram. */
	private static String chlorine(double grams, UnitSystem units) {
		if (units == UnitSystem.METRIC) {
			return (grams < 10) ? decimal(Math.max(0.1, grams), 1) + " g" : decimal(grams, 0) + " g";
		}
		double pounds = grams / MeasuredAmount.Measure.LB.size();
		return (pounds < 0.1) ? trimmedDecimal(Math.max(0.01, grams / MeasuredAmount.Measure.OZ.size()), 2) + " oz"
				: trimmedDecimal(pounds, 2) + " lb";
	}

	/** A share or chance in whole percent; what is nearly nothing or nearly certain is not said to be so. */
	public static String percent(double share) {
		if (share > 0 && share < 0.01) {
			return "< 1";
		}
		return (share > 0.99 && share < 1) ? "> 99" : decimal(share * 100, 0);
	}

	/** A level with its unit: "3.0 ppm", "7.5", "82 °F". */
	public static String level(Level level, double value, UnitSystem units) {
		if (level.unit() == Level.Unit.CELSIUS) {
			return (units == UnitSystem.US) ? decimal(value * 1.8 + 32, 0) + " °F" : decimal(value, 0) + " °C";
		}
		return number(level, value) + unit(level);
	}

	/** A level without its unit, in the digits it is stated with. */
	public static String number(Level level, double value) {
		return decimal(value, level.decimals());
	}

	/** "30 minutes", "8 hours", "1 hour". */
	public static String hours(double hours, Texts texts) {
		if (hours < 1) {
			return texts.text("water.time.minutes", decimal(hours * 60, 0));
		}
		String number = decimal(hours, (Math.abs(hours - Math.rint(hours)) < 0.05) ? 0 : 1);
		return texts.text("1".equals(number) ? "water.time.hour" : "water.time.hours", number);
	}

	/** "2 lb 3 oz", "1.25 kg", "3 scoops (1 lb 2 oz)". */
	public static String amount(MeasuredAmount amount, Texts texts) {
		MeasuredAmount.Counted counted = amount.counted();
		if (counted == null) {
			return weight(amount, texts);
		}
		String number = trimmedDecimal(counted.count(), 1);
		String key = "water.count." + counted.of().name() + (isThreeInch(amount, counted) ? "_3_INCH" : "")
				+ ("1".equals(number) ? ".one" : "");
		return texts.text(key, number) + " (" + weight(amount, texts) + ")";
	}

	private static boolean isThreeInch(MeasuredAmount amount, MeasuredAmount.Counted counted) {
		return counted.of() == MeasuredAmount.Count.TABLET && counted.count() > 0
				&& MeasuredAmount.isThreeInchTablet(amount.amount() / counted.count());
	}

	private static String weight(MeasuredAmount amount, Texts texts) {
		StringBuilder words = new StringBuilder();
		for (MeasuredAmount.Part part : amount.parts()) {
			if (words.length() > 0) {
				words.append(' ');
			}
			words.append(trimmedDecimal(part.count(), 3)).append(' ').append(texts.text("water.measure." + part.measure().name()));
		}
		return words.toString();
	}

	public static String volume(double litres, UnitSystem units) {
		if (units == UnitSystem.US) {
			return decimal(litres / Volume.LITRES_PER_US_GALLON, 0) + " gal";
		}
		return (litres < 5000) ? decimal(litres, 0) + " L" : decimal(litres / 1000, 1) + " m³";
	}

	public static String levelKey(Level level) {
		return "water.level." + level.name();
	}

	public static String kindKey(ProductKind kind) {
		return "water.product." + kind.name();
	}

	public static String ingredientKey(ActiveIngredient ingredient) {
		return "water.ingredient." + ingredient.name();
	}

	public static String situationKey(Situation situation) {
		return "water.situation." + situation.name();
	}

	/** Rounded half up to so many decimals, all of them shown: 7.50, -0.30; never "-0". */
	public static String decimal(double value, int decimals) {
		long scale = 1;
		for (int i = 0; i < decimals; i++) {
			scale *= 10;
		}
		long scaled = (long) Math.floor(Math.abs(value) * scale + 0.5 + 1e-9);
		String digits = Long.toString(scaled);
		if (decimals > 0) {
			while (digits.length() <= decimals) {
				digits = "0" + digits;
			}
			digits = digits.substring(0, digits.length() - decimals) + "." + digits.substring(digits.length() - decimals);
		}
		return (value < 0 && scaled != 0) ? "-" + digits : digits;
	}

	/** At most so many decimals, without trailing zeros. */
	public static String trimmedDecimal(double value, int decimals) {
		String text = decimal(value, decimals);
		if (decimals == 0) {
			return text;
		}
		int end = text.length();
		while (text.charAt(end - 1) == '0') {
			end--;
		}
		return text.substring(0, (text.charAt(end - 1) == '.') ? end - 1 : end);
	}

	/** "swim-ready" style code of an enum constant: lower case, dashes. */
	public static String code(Enum<?> constant) {
		return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

	private static String qualifier(ReadingQualifier qualifier) {
		return (qualifier == ReadingQualifier.EXACT) ? "" : qualifier.sign() + " ";
	}

	private static String difference(Level level, double by, UnitSystem units) {
		if (level.unit() == Level.Unit.CELSIUS) {
			return (units == UnitSystem.US) ? decimal(by * 1.8, 0) + " °F" : decimal(by, 0) + " °C";
		}
		return number(level, by) + unit(level);
	}

	private static String unit(Level level) {
		return switch (level.unit()) {
			case PPM -> " ppm";
			case PPB -> " ppb";
			case PH, INDEX, CELSIUS -> "";
		};
	}

}
