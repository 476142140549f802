package org.meniscus.company.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.time.MonthDay;
import java.time.ZoneId;
import java.util.Currency;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.TreatmentSettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.Errors;

class TreatmentFormTests {

	/** Litres in 1,000 US gallons are exactly 3,785.411784. */
	@Test
	void waterPricePerThousandGallonsIsStoredPerCubicMetre() {
		TreatmentForm form = form(UnitSystem.US, "6.00", "", "");
		TreatmentSettings rules = Objects.requireNonNull(parse(form, UnitSystem.US));
		assertThat(rules.costs().waterPerM3()).isCloseTo(600 / 3.785411784, within(1e-9));
		assertThat(rules.costs().drainLabor()).isEqualTo(9050);
		assertThat(rules.costs().laborHour()).isEqualTo(2999);
		assertThat(rules.holdProbability()).isEqualTo(0.85);
		assertThat(rules.fcSwimCeiling()).isEqualTo(3.5);
		assertThat(rules.minimumRule()).isEqualTo(MinimumRule.HYPOCHLOROUS_ACID);
		assertThat(rules.seasonEnd()).isNull();
		assertThat(TreatmentForm.of(0, UnitSystem.US, rules)).isEqualTo(form);
	}

	@Test
	void waterPricePerCubicMetreIsStoredUnchanged() {
		assertThat(Objects.requireNonNull(parse(form(UnitSystem.METRIC, "2.35", "", ""), UnitSystem.METRIC)).costs().waterPerM3())
			.isEqualTo(235);
	}

	/** 160 for a cubic metre is 6.0567 for 1,000 gal: shown as 6.06 it must not become 160.09. */
	@Test
	void unchangedWaterPriceKeepsAllStoredDigits() {
		TreatmentForm shown = TreatmentForm.of(0, UnitSystem.US, TreatmentSettings.DEFAULTS);
		assertThat(shown.waterPrice()).isEqualTo("6.06");
		assertThat(parse(shown, UnitSystem.US)).isEqualTo(TreatmentSettings.DEFAULTS);
	}

	@Test
	void waterPriceEnteredInOtherUnitsIsRejected() {
		Errors errors = errorsOf(form(UnitSystem.US, "6.00", "", ""), UnitSystem.METRIC);
		assertThat(Objects.requireNonNull(errors.getFieldError("waterPrice")).getCode()).isEqualTo("company.waterPrice.units");
		assertThat(errors.getErrorCount()).isEqualTo(1);
	}

	@ParameterizedTest(name = "month {0}, day {1}: {2}")
	@CsvSource(nullValues = "none", value = { "10, 15, --10-15", "2, 29, --02-29", "'', '', none" })
	void seasonEndIsADayOrAbsent(String month, String day, @Nullable String end) {
		TreatmentSettings rules = Objects.requireNonNull(parse(form(UnitSystem.US, "6.00", month, day), UnitSystem.US));
		assertThat(rules.seasonEnd()).isEqualTo((end != null) ? MonthDay.parse(end) : null);
	}

	@ParameterizedTest(name = "month {0}, day {1}: {2} {3}")
	@CsvSource({ "4, 31, seasonDay, company.season.day", "2, 30, seasonDay, company.season.day", "10, 0, seasonDay, company.season.day",
			"10, '', seasonDay, field.missing", "'', 5, seasonMonth, field.choose", "13, 5, seasonMonth, field.choose" })
	void incompleteOrImpossibleSeasonEndIsRejectedOnItsField(String month, String day, String field, String code) {
		Errors errors = errorsOf(form(UnitSystem.US, "6.00", month, day), UnitSystem.US);
		assertThat(Objects.requireNonNull(errors.getFieldError(field)).getCode()).isEqualTo(code);
		assertThat(errors.getErrorCount()).isEqualTo(1);
	}

	@ParameterizedTest(name = "{0}: {1} is refused as {2}")
	@CsvSource({ "holdProbability, 49, field.range", "holdProbability, 100, field.range", "holdProbability, 90.5, field.decimals",
			"holdProbability, '', field.missing", "fcSwimCeiling, 0.9, field.range", "fcSwimCeiling, 10.1, field.range",
			"fcSwimCeiling, 3.55, field.decimals", "waterPrice, -0.01, field.range", "waterPrice, 1.234, field.decimals",
			"waterPrice, '', field.missing", "drainVisit, 10000000.01, field.range", "workHour, '', field.missing" })
	void invalidValueIsRejectedOnItsField(String field, String text, String code) {
		BigDecimal value = number(text);
		TreatmentForm form = new TreatmentForm(0L, UnitSystem.US, field.equals("fcSwimCeiling") ? value : number("4"),
				field.equals("holdProbability") ? value : number("90"), MinimumRule.CYA_RATIO,
				field.equals("waterPrice") ? value : number("6"),
				field.equals("drainVisit") ? value : number("90"), field.equals("workHour") ? value : number("25"), null, null,
				null);
		Errors errors = errorsOf(form, UnitSystem.US);
		assertThat(Objects.requireNonNull(errors.getFieldError(field)).getCode()).isEqualTo(code);
		assertThat(errors.getErrorCount()).isEqualTo(1);
	}

	@Test
	void emptyFormIsRejectedOnEachRequiredField() {
		Errors errors = errorsOf(new TreatmentForm(null, UnitSystem.US, null, null, null, null, null, null, null, null, null),
				UnitSystem.US);
		assertThat(errors.getFieldErrors()).extracting(error -> error.getField())
			.containsExactlyInAnyOrder("fcSwimCeiling", "holdProbability", "minimumRule", "waterPrice", "drainVisit", "workHour");
	}

	private static TreatmentForm form(UnitSystem units, String water, String month, String day) {
		return new TreatmentForm(0L, units, number("3.5"), number("85"), MinimumRule.HYPOCHLOROUS_ACID, number(water), number("90.50"),
				number("29.99"), true, month.isEmpty() ? null : Integer.valueOf(month), day.isEmpty() ? null : Integer.valueOf(day));
	}

	private static @Nullable BigDecimal number(String text) {
		return text.isEmpty() ? null : new BigDecimal(text);
	}

	private static @Nullable TreatmentSettings parse(TreatmentForm form, UnitSystem units) {
		Errors errors = new BeanPropertyBindingResult(form, "form");
		TreatmentSettings rules = form.parse(company(units), errors, Locale.ENGLISH);
		assertThat(errors.getAllErrors()).isEmpty();
		return rules;
	}

	private static Errors errorsOf(TreatmentForm form, UnitSystem units) {
		Errors errors = new BeanPropertyBindingResult(form, "form");
		assertThat(form.parse(company(units), errors, Locale.ENGLISH)).isNull();
		return errors;
	}

	private static CompanySettings company(UnitSystem units) {
		return new CompanySettings(new CompanyId(UUID.randomUUID()), 0, "Ozvarra Pool Care", units, ZoneId.of("America/Phoenix"),
				Currency.getInstance("USD"), TreatmentSettings.DEFAULTS);
	}

}
