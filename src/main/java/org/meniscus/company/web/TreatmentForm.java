package org.meniscus.company.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Month;
import java.time.MonthDay;
import java.time.format.TextStyle;
import java.util.Locale;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.TreatmentSettings;
import org.meniscus.platform.web.MoneyField;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;
import org.springframework.validation.Errors;

/**
 * What steers treatment plans, as the owner enters it.
 *
 * @param units those the page was made in
 * @param fcSwimCeiling ppm
 * @param holdProbability percent
 * @param waterPrice money for 1,000 US gallons or a cubic metre
 * @param drainVisit money, as {@code workHour}
 * @param seasonMonth 1 to 12; absent together with the day when pools run all year
 */
record TreatmentForm(@Nullable Long version, @Nullable UnitSystem units, @Nullable BigDecimal fcSwimCeiling,
		@Nullable BigDecimal holdProbability,
		@Nullable MinimumRule minimumRule, @Nullable BigDecimal waterPrice, @Nullable BigDecimal drainVisit, @Nullable BigDecimal workHour,
		@Nullable Boolean waterScarce, @Nullable Integer seasonMonth, @Nullable Integer seasonDay) {

	private static final int MONEY_DECIMALS = 2;

	static TreatmentForm of(long version, UnitSystem units, TreatmentSettings rules) {
		TreatmentCosts costs = rules.costs();
		MonthDay end = rules.seasonEnd();
		return new TreatmentForm(version, units, number(rules.fcSwimCeiling()), number(rules.holdProbability() * 100), rules.minimumRule(),
				waterPrice(costs, units), money(costs.drainLabor()), money(costs.laborHour()), costs.waterScarce(),
				(end != null) ? end.getMonthValue() : null,
				(end != null) ? end.getDayOfMonth() : null);
	}

	/** What was decided, or null when something was refused. */
	@Nullable
	TreatmentSettings parse(CompanySettings stored, Errors errors, Locale locale) {
		Double ceiling = inRange("fcSwimCeiling", fcSwimCeiling, 1, TreatmentSettings.CEILING_MIN, TreatmentSettings.CEILING_MAX, errors);
		Double chance = inRange("holdProbability", holdProbability, 0, TreatmentSettings.PROBABILITY_MIN * 100,
				TreatmentSettings.PROBABILITY_MAX * 100,
				errors);
		if (minimumRule == null && !errors.hasFieldErrors("minimumRule")) {
			errors.rejectValue("minimumRule", "field.choose");
		}
		Double water = waterCents(stored, errors);
		Double drain = cents("drainVisit", drainVisit, errors);
		Double hour = cents("workHour", workHour, errors);
		MonthDay end = seasonEnd(errors, locale);
		if (errors.hasErrors()) {
			return null;
		}
		return new TreatmentSettings(Objects.requireNonNull(ceiling), Objects.requireNonNull(chance) / 100,
				Objects.requireNonNull(minimumRule),
				new TreatmentCosts(Objects.requireNonNull(water), Objects.requireNonNull(drain), Objects.requireNonNull(hour))
					.withWaterScarce(Boolean.TRUE.equals(waterScarce)),
				end);
	}

	/** A price that was left as it was shown stays to the last digit. */
	private @Nullable Double waterCents(CompanySettings stored, Errors errors) {
		if (units != stored.units() && !errors.hasFieldErrors("waterPrice")) {
			errors.rejectValue("waterPrice", "company.waterPrice.units");
			return null;
		}
		TreatmentCosts costs = stored.treatment().costs();
		if (waterPrice != null && waterPrice.compareTo(waterPrice(costs, stored.units())) == 0) {
			return costs.waterPerM3();
		}
		Double cents = cents("waterPrice", waterPrice, errors);
		return (cents != null) ? cents / cubicMetres(stored.units()) : null;
	}

	private @Nullable MonthDay seasonEnd(Errors errors, Locale locale) {
		if (errors.hasFieldErrors("seasonMonth") || errors.hasFieldErrors("seasonDay") || (seasonMonth == null && seasonDay == null)) {
			return null;
		}
		if (seasonMonth == null || seasonMonth < 1 || seasonMonth > 12) {
			errors.rejectValue("seasonMonth", "field.choose");
			return null;
		}
		Month month = Month.of(seasonMonth);
		if (seasonDay == null) {
			errors.rejectValue("seasonDay", "field.missing");
			return null;
		}
		if (seasonDay < 1 || seasonDay > month.maxLength()) {
			errors.rejectValue("seasonDay", "company.season.day",
					new Object[]{ month.getDisplayName(TextStyle.FULL_STANDALONE, locale), month.maxLength() }, "No such day.");
			return null;
		}
		return MonthDay.of(month, seasonDay);
	}

	private static @Nullable Double cents(String field, @Nullable BigDecimal money, Errors errors) {
		if (money == null && !errors.hasFieldErrors(field)) {
			errors.rejectValue(field, "field.missing");
		}
		Integer cents = MoneyField.parse(field, money, MONEY_DECIMALS, (int) TreatmentSettings.COST_MAX, errors);
		return (cents != null) ? Double.valueOf(cents) : null;
	}

	/** Both ends are allowed; null when it is missing or refused. */
	private static @Nullable Double inRange(String field, @Nullable BigDecimal value, int decimals, double min, double max,
			Errors errors) {
		if (errors.hasFieldErrors(field)) {
			return null;
		}
		if (value == null) {
			errors.rejectValue(field, "field.missing");
		}
		else if (value.doubleValue() < min || value.doubleValue() > max) {
			errors.rejectValue(field, "field.range", new Object[]{ grouped(min), grouped(max) }, "Out of range.");
		}
		else if (value.stripTrailingZeros().scale() > decimals) {
			errors.rejectValue(field, "field.decimals", new Object[]{ decimals }, "Decimals.");
		}
		else {
			return value.doubleValue();
		}
		return null;
	}

	private static BigDecimal waterPrice(TreatmentCosts costs, UnitSystem units) {
		return money(costs.waterPerM3() * cubicMetres(units));
	}

	/** Cubic metres a water price is for. */
	private static double cubicMetres(UnitSystem units) {
		return (units == UnitSystem.US) ? Volume.ofUsGallons(1000).cubicMetres() : 1;
	}

	private static BigDecimal money(double cents) {
		return BigDecimal.valueOf(cents / 100).setScale(MONEY_DECIMALS, RoundingMode.HALF_UP);
	}

	private static String grouped(double whole) {
		return String.format(Locale.US, "%,.0f", whole);
	}

	private static BigDecimal number(double value) {
		return new BigDecimal(QuantityFormatter.decimal(value, 1));
	}

}
