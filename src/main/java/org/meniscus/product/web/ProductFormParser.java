package org.meniscus.product.web;

import java.math.BigDecimal;
import java.util.Currency;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.product.Price;
import org.meniscus.product.ProductDetails;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.Errors;

/** Reads the figures of a product form out of the company's units and says, beside its field, what cannot be. */
final class ProductFormParser {

	private static final double STRENGTH_MIN = 0.01;

	private final ProductForm form;

	private final UnitSystem units;

	private final Errors errors;

	ProductFormParser(ProductForm form, UnitSystem units, Errors errors) {
		this.form = form;
		this.units = units;
		this.errors = errors;
	}

	/** What is to be kept, or null when something was refused. */
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
		double small = PackageUnit.smallest(units, kind.unit()).amount();
		Double tablet = (kind.form() == PhysicalForm.TABLET)
				? inRange("tablet", form.tablet(), small, ProductDetails.TABLET_MIN, ProductDetails.TABLET_MAX) : null;
		Double scoop = ProductDetails.hasScoop(kind)
				? inRange("scoop", form.scoop(), small, ProductDetails.SCOOP_MIN, ProductDetails.SCOOP_MAX) : null;
		if (errors.hasErrors()) {
			return null;
		}
		return new ProductDetails(kind, Objects.requireNonNull(form.name()), strength, Objects.requireNonNull(basis), density,
				Objects.requireNonNull(pack), label, tablet, scoop, form.cautions(), Boolean.TRUE.equals(form.onTruck()),
				Objects.requireNonNull(form.preference()));
	}

	/** Minor units, or null when absent or refused. */
	static @Nullable Integer cents(String field, @Nullable BigDecimal money, Currency currency, Errors errors) {
		if (money == null) {
			return null;
		}
		BigDecimal cents = ProductForm.cents(money, currency);
		if (cents == null) {
			errors.rejectValue(field, "product.price.decimals", new Object[]{ currency.getDefaultFractionDigits() }, "Decimals.");
			return null;
		}
		if (cents.signum() < 0 || cents.compareTo(BigDecimal.valueOf(Price.CENTS_MAX)) > 0) {
			errors.rejectValue(field, "product.range",
					new Object[]{ "0", QuantityFormatter.decimal(Price.CENTS_MAX / Math.pow(10, currency.getDefaultFractionDigits()), 0) },
					"Out of range.");
			return null;
		}
		return cents.intValueExact();
	}

	private @Nullable Double inUnit(String field, @Nullable BigDecimal value, String unitField, @Nullable PackageUnit unit,
			ProductKind kind,
			double per, double least, double most) {
		if (value == null) {
			return null;
		}
		if (unit == null || !PackageUnit.of(units, kind.unit()).contains(unit)) {
			if (!errors.hasFieldErrors(unitField)) {
				errors.rejectValue(unitField, "product.choose");
			}
			return null;
		}
		return inRange(field, value, unit.amount() / per, least, most);
	}

	/** The value in the unit it is kept in, or null when absent or refused. Limits are in the unit it is kept in. */
	private @Nullable Double inRange(String field, @Nullable BigDecimal value, double perUnit, double least, double most) {
		if (value == null) {
			return null;
		}
		double kept = value.doubleValue() * perUnit;
		if (kept < least || kept > most) {
			errors.rejectValue(field, "product.range", new Object[]{ limit(least / perUnit), limit(most / perUnit) }, "Out of range.");
			return null;
		}
		return kept;
	}

	private static String limit(double value) {
		return QuantityFormatter.decimal(value, (value < 0.01) ? 5 : (value < 100) ? 2 : 0);
	}

}
