package org.meniscus.product.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.product.Delivery;
import org.meniscus.product.ProductDetails;
import org.meniscus.product.ProductRecord;
import org.meniscus.product.ProductService;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.UnitSystem;

/**
 * What the browser sends about a product, in the company's units; {@link ProductFormParser} turns it into what is kept.
 *
 * @param kind fixed once the form is open; a product keeps its kind
 * @param strength percent
 * @param density pounds per US gallon or kilograms per litre
 * @param labelMax in {@code labelUnit} for 10,000 US gallons or 10 m³
 * @param labelPerPpm in the smallest unit, for as much water and 1 ppm of metal or phosphate
 * @param tablet in the smallest unit: ounces or grams
 * @param scoop in the smallest unit: ounces, fluid ounces, grams or millilitres
 * @param price of a package; asked for a new product only
 * @param deliveredOn of liquid chlorine; absent when not known
 * @param storage where it is kept since
 */
record ProductForm(@NotNull @Nullable UUID id, @Nullable Long version, @NotNull(message = "{product.choose}") @Nullable ProductKind kind,
		@NotBlank @Pattern(regexp = FormBinding.NOT_BLANK_PATTERN, message = "{jakarta.validation.constraints.NotBlank.message}") @Size(max = ProductDetails.NAME_MAX, message = "{product.tooLong}") @Nullable String name,
		@Nullable BigDecimal strength, @Nullable StrengthBasis basis, @Nullable BigDecimal density,
		@NotNull @Nullable BigDecimal pack, @NotNull(message = "{product.choose}") @Nullable PackageUnit packUnit,
		@Nullable BigDecimal labelMax, @Nullable PackageUnit labelUnit, @Nullable BigDecimal labelPerPpm,
		@Nullable BigDecimal tablet,
		@Nullable BigDecimal scoop,
		@Size(max = ProductDetails.CAUTIONS_MAX, message = "{product.tooLong}") @Nullable String cautions, @Nullable Boolean onTruck,
		@NotNull(message = "{product.choose}") @Nullable ProductPreference preference, @Nullable BigDecimal price,
		@Nullable LocalDate deliveredOn, @Nullable StorageTemperature storage) {

	/** A new product of a kind as it usually comes. */
	static ProductForm defaults(UUID id, ProductKind kind, String name, UnitSystem units) {
		Double strength = kind.strength();
		return new ProductForm(id, null, kind, name, (strength != null) ? number(strength * 100, 3) : null, kind.basis(),
				number(kind.density() / ProductUnits.kilogramsPerLitre(units), 2), null, PackageUnit.of(units, kind.unit()).get(0), null,
				PackageUnit.of(units, kind.unit()).get(0), null, null, null, ProductService.defaultCautions(kind), true,
				ProductPreference.NONE,
				null, null, StorageTemperature.SHADE);
	}

	static ProductForm of(ProductRecord product, UnitSystem units) {
		ProductDetails details = product.details();
		PackageUnit pack = PackageUnit.bestFit(units, details.kind().unit(), details.packageAmount());
		Double max = details.labelMaxPerM3();
		PackageUnit label = PackageUnit.bestFit(units, details.kind().unit(),
				(max != null) ? max * ProductUnits.labelCubicMetres(units) : null);
		double small = PackageUnit.smallest(units, details.kind().unit()).amount();
		Double rate = details.labelPerPpm();
		Double tablet = details.tabletGrams();
		Double scoop = details.scoop();
		Double density = details.density();
		Double strength = details.strengthPercent();
		Delivery delivery = details.delivery();
		return new ProductForm(product.id().value(), product.version(), details.kind(), details.name(),
				(strength != null) ? number(strength, 3) : null, details.basis(),
				(density != null) ? number(density / ProductUnits.kilogramsPerLitre(units), (units == UnitSystem.US) ? 2 : 3) : null,
				new BigDecimal(pack.count(details.packageAmount(), 3)), pack,
				(max != null) ? new BigDecimal(label.count(max * ProductUnits.labelCubicMetres(units), 2)) : null, label,
				(rate != null) ? number(rate * ProductUnits.labelCubicMetres(units) / small, 2) : null,
				(tablet != null) ? number(tablet / small, 2) : null, (scoop != null) ? number(scoop / small, 2) : null, details.cautions(),
				details.onTruck(), details.preference(), null, (delivery != null) ? delivery.on() : null,
				(delivery != null) ? delivery.storage() : StorageTemperature.SHADE);
	}

	ProductForm withVersion(long version) {
		return new ProductForm(id, version, kind, name, strength, basis, density, pack, packUnit, labelMax, labelUnit, labelPerPpm, tablet,
				scoop,
				cautions, onTruck, preference, price, deliveredOn, storage);
	}

	private static BigDecimal number(double value, int decimals) {
		return new BigDecimal(QuantityFormatter.decimal(value, decimals));
	}

}
