package org.meniscus.product.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.product.Delivery;
import org.meniscus.product.ProductDetails;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductRecord;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.Errors;

class ProductFormParserTests {

	private static final LocalDate TODAY = LocalDate.of(2026, 7, 20);

	/** Exact by definition: 28.349523125 g to the ounce, 29.5735295625 mL to the US fluid ounce. */
	@ParameterizedTest(name = "{1} of {0} in {2} units is {3}")
	@CsvSource({ "CAL_HYPO_65, 15, US, 425.242846875", "LIQUID_CHLORINE_125, 8, US, 236.5882365", "CAL_HYPO_65, 425, METRIC, 425",
			"LIQUID_CHLORINE_125, 250, METRIC, 250" })
	void scoopIsParsedInTheSmallestUnitAndShownAsEntered(ProductKind kind, String entered, UnitSystem units, double kept) {
		Errors errors = errors();
		ProductDetails details = new ProductFormParser(form(kind, entered, ProductPreference.FIRST, units), units, TODAY, errors).parse();
		assertThat(errors.getAllErrors()).isEmpty();
		assertThat(Objects.requireNonNull(Objects.requireNonNull(details).scoop())).isCloseTo(kept, within(1e-9));
		assertThat(details.preference()).isEqualTo(ProductPreference.FIRST);
		ProductForm shown = ProductForm.of(new ProductRecord(new ProductId(UUID.randomUUID()), 0, details, false), units);
		assertThat(shown.scoop()).isEqualByComparingTo(entered);
		assertThat(shown.preference()).isEqualTo(ProductPreference.FIRST);
	}

	@Test
	void emptyScoopIsParsedAsAbsent() {
		ProductDetails details = new ProductFormParser(form(ProductKind.CAL_HYPO_65, null, ProductPreference.NONE, UnitSystem.US),
				UnitSystem.US, TODAY, errors())
			.parse();
		assertThat(Objects.requireNonNull(details).scoop()).isNull();
	}

	@Test
	void scoopOfATabletProductIsIgnored() {
		ProductDetails details = new ProductFormParser(form(ProductKind.TRICHLOR_TAB, "5", ProductPreference.NONE, UnitSystem.US),
				UnitSystem.US, TODAY, errors())
			.parse();
		assertThat(Objects.requireNonNull(details).scoop()).isNull();
	}

	@ParameterizedTest(name = "a scoop of {0} in {1} units")
	@CsvSource({ "0, US", "-3, METRIC", "177, US", "5001, METRIC", "0.01, US" })
	void scoopOutOfRangeIsRejectedOnItsField(String entered, UnitSystem units) {
		Errors errors = errors();
		assertThat(
				new ProductFormParser(form(ProductKind.CAL_HYPO_65, entered, ProductPreference.NONE, units), units, TODAY, errors).parse())
			.isNull();
		assertThat(errors.getErrorCount()).isEqualTo(1);
		assertThat(Objects.requireNonNull(errors.getFieldError("scoop")).getCode()).isEqualTo("field.range");
	}

	@Test
	void deliveryIsKeptAndShownAsEntered() {
		ProductDetails details = Objects.requireNonNull(
				new ProductFormParser(delivered(ProductKind.LIQUID_CHLORINE_10, TODAY, StorageTemperature.HOT), UnitSystem.US, TODAY,
						errors())
					.parse());
		assertThat(details.delivery()).isEqualTo(new Delivery(TODAY, StorageTemperature.HOT));
		ProductForm shown = ProductForm.of(new ProductRecord(new ProductId(UUID.randomUUID()), 0, details, false), UnitSystem.US);
		assertThat(shown.deliveredOn()).isEqualTo(TODAY);
		assertThat(shown.storage()).isEqualTo(StorageTemperature.HOT);
	}

	@Test
	void deliveryOfWhatKeepsItsStrengthIsIgnored() {
		ProductDetails details = new ProductFormParser(delivered(ProductKind.CAL_HYPO_65, TODAY, StorageTemperature.HOT), UnitSystem.US,
				TODAY, errors())
			.parse();
		assertThat(Objects.requireNonNull(details).delivery()).isNull();
	}

	@ParameterizedTest(name = "{0}, {1}: {3} on {2}")
	@CsvSource({ "2026-07-21, SHADE, deliveredOn, product.delivered.ahead", "2020-07-20, SHADE, deliveredOn, product.delivered.early",
			"2026-07-20, , storage, product.choose" })
	void deliveryThatCannotBeIsRejectedOnItsField(LocalDate on, @Nullable StorageTemperature storage, String field, String code) {
		Errors errors = errors();
		assertThat(new ProductFormParser(delivered(ProductKind.LIQUID_CHLORINE_125, on, storage), UnitSystem.US, TODAY, errors).parse())
			.isNull();
		assertThat(errors.getErrorCount()).isEqualTo(1);
		assertThat(Objects.requireNonNull(errors.getFieldError(field)).getCode()).isEqualTo(code);
	}

	private static ProductForm delivered(ProductKind kind, LocalDate on, @Nullable StorageTemperature storage) {
		ProductForm usual = form(kind, null, ProductPreference.NONE, UnitSystem.US);
		return new ProductForm(usual.id(), null, kind, usual.name(), usual.strength(), usual.basis(), usual.density(), usual.pack(),
				usual.packUnit(), null, usual.labelUnit(), null, null, null, null, true, usual.preference(), null, on, storage);
	}

	private static ProductForm form(ProductKind kind, @Nullable String scoop, ProductPreference preference, UnitSystem units) {
		ProductForm usual = ProductForm.defaults(UUID.randomUUID(), kind, "A product", units);
		return new ProductForm(usual.id(), null, kind, usual.name(), usual.strength(), usual.basis(), usual.density(), BigDecimal.TEN,
				usual.packUnit(), null, usual.labelUnit(), null, null, (scoop != null) ? new BigDecimal(scoop) : null, null, true,
				preference,
				null, usual.deliveredOn(), usual.storage());
	}

	private static Errors errors() {
		return new BeanPropertyBindingResult(form(ProductKind.CAL_HYPO_65, null, ProductPreference.NONE, UnitSystem.US), "form");
	}

}
