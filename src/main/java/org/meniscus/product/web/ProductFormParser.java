package org.meniscus.product.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.product.Delivery;
import org.meniscus.product.ProductDetails;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.Errors;

/** Parses the figures of a product form from the company's units; what cannot be gets a message beside its field. */
final class ProductFormParser {

	private static final double STRENGTH_MIN = 0.01;

	/** Nobody keeps liquid chlorine longer: an earlier day is a slip of the pen. */
	private static final int YEARS_KEPT = 3;

	private final ProductForm form;

	private final UnitSystem units;

	private final LocalDate today;

	private final Errors errors;

	ProductFormParser(ProductForm form, UnitSystem units, LocalDate today, Errors errors) {
		this.form = form;
		this.units = units;
		this.today = today;
		this.errors = errors;
	}

	/** The details to store, or null when something was refused. */
	@Nullable
	ProductDetails parse() {
		ProductKind kind = form.kind();
		if (kind == null) {
			return null;
		}
		StrengthBasis basis = ProductDetails.hasStrengthBasis(kind) ? form.basis() : StrengthBasis.PURITY;
		if (ProductDetails.hasStrengthBasis(kind) && (basis == null || basis == StrengthBasis.PURITY) && !errors.hasFieldErrors("basis")) {
			errors.rejectValue("basis", "product.choose");
		}
		Double strength = inRange("strength", form.strength(), 1, STRENGTH_MIN, 100);
		Double density = inRange("density", form.density(), ProductUnits.kilogramsPerLitre(units), ProductDetails.DENSITY_MIN,
				ProductDetails.DENSITY_MAX);
		Double pack = inUnit("pack", form.pack(), "packUnit", form.packUnit(), kind, 1, ProductDetails.PACKAGE_MIN,
				ProductDetails.PACKAGE_MAX);
		Double label = inUnit("labelMax", form.labelMax(), "labelUnit", form.labelUnit(), kind, ProductUnits.labelCubicMetres(units),
				ProductDetails.LABEL_MIN, ProductDetails.LABEL_MAX);
		double smallestUnit = PackageUnit.smallest(units, kind.unit()).amount();
		Double rate = ProductDetails.hasLabelRate(kind) ? inRange("labelPerPpm", form.labelPerPpm(),
				smallestUnit / ProductUnits.labelCubicMetres(units), ProductDetails.LABEL_MIN, ProductDetails.LABEL_MAX) : null;
		Double tablet = (kind.form() == PhysicalForm.TABLET)
				? inRange("tablet", form.tablet(), smallestUnit, ProductDetails.TABLET_MIN, ProductDetails.TABLET_MAX) : null;
		Double scoop = ProductDetails.hasScoop(kind)
				? inRange("scoop", form.scoop(), smallestUnit, ProductDetails.SCOOP_MIN, ProductDetails.SCOOP_MAX) : null;
		Delivery delivery = ProductDetails.hasStrengthBasis(kind) ? delivery() : null;
		if (errors.hasErrors()) {
			return null;
		}
		return new ProductDetails(kind, Objects.requireNonNull(form.name()), strength, Objects.requireNonNull(basis), density,
				Objects.requireNonNull(pack), label, rate, tablet, scoop, form.cautions(), Boolean.TRUE.equals(form.onTruck()),
				Objects.requireNonNull(form.preference()), delivery);
	}

	/** Null when no day is given or it is refused. */
	private @Nullable Delivery delivery() {
		LocalDate on = form.deliveredOn();
		if (on == null) {
			return null;
		}
		if (on.isAfter(today) || on.isBefore(today.minusYears(YEARS_KEPT))) {
			errors.rejectValue("deliveredOn", on.isAfter(today) ? "product.delivered.ahead" : "product.delivered.early");
			return null;
		}
		StorageTemperature storage = form.storage();
		if (storage == null) {
			if (!errors.hasFieldErrors("storage")) {
				errors.rejectValue("storage", "product.choose");
			}
			return null;
		}
		return new Delivery(on, storage);
	}

	private @Nullable Double inUnit(String field, @Nullable BigDecimal value, String unitField, @Nullable PackageUnit unit,
			ProductKind kind,
			double per, double min, double max) {
		if (value == null) {
			return null;
		}
		if (unit == null || !PackageUnit.of(units, kind.unit()).contains(unit)) {
			if (!errors.hasFieldErrors(unitField)) {
				errors.rejectValue(unitField, "product.choose");
			}
			return null;
		}
		return inRange(field, value, unit.amount() / per, min, max);
	}

	/** The value in the unit it is stored in, as are the limits; null when absent or refused. */
	private @Nullable Double inRange(String field, @Nullable BigDecimal value, double perUnit, double min, double max) {
		if (value == null) {
			return null;
		}
		double converted = value.doubleValue() * perUnit;
		if (converted < min || converted > max) {
			errors.rejectValue(field, "field.range", new Object[]{ limit(min / perUnit), limit(max / perUnit) }, "Out of range.");
			return null;
		}
		return converted;
	}

	private static String limit(double value) {
		return QuantityFormatter.decimal(value, (value < 0.01) ? 5 : (value < 100) ? 2 : 0);
	}

}
