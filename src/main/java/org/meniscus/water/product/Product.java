package org.meniscus.water.product;

import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.units.AmountUnit;

/**
 * A product as a company has it. Facts left null fall back to nothing: an unknown strength or basis means no dose.
 *
 * @param id the company's own id of it, any text
 * @param strength fraction in (0, 1] in {@code basis}, on the day of the plan; null = unknown
 * @param basis for liquid chlorine TRADE or WEIGHT; null = unknown, which for liquid chlorine means no dose
 * @param density kg/L; null = the kind's usual one
 * @param packageAmount grams or millilitres the price is for
 * @param priceCents price of the package on the day of the plan in minor units; null = no price known
 * @param labelMaxPerM3 most in one addition by the label, grams or millilitres per cubic metre of pool; null = the kind's default
 * @param labelPerPpm of a sequestrant or phosphate remover: what its label gives, grams or millilitres for a cubic metre of pool and each
 * ppm of metal or of phosphate; null = not known
 * @param tabletGrams weight of one tablet; null when it does not come in tablets
 * @param onTruck whether the technician has it along
 * @param scoop grams or millilitres in one level scoop, cup or cap that lies with it; null when it is weighed or poured
 * @param preference what the company has decided about it
 * @param age of liquid chlorine whose {@code strength} is what time has left of it; null = strength as on the label
 */
public record Product(String id, ProductKind kind, String name, @Nullable Double strength, @Nullable StrengthBasis basis,
		@Nullable Double density, double packageAmount, @Nullable Long priceCents, @Nullable Double labelMaxPerM3,
		@Nullable Double labelPerPpm,
		@Nullable Double tabletGrams, boolean onTruck, @Nullable Double scoop, ProductPreference preference, @Nullable ProductAge age) {

	/** @throws IllegalArgumentException for a strength outside (0, 1], a density, package, maximum, rate, tablet or scoop not above zero, a negative price */
	public Product {
		Objects.requireNonNull(id);
		Objects.requireNonNull(kind);
		Objects.requireNonNull(name);
		Objects.requireNonNull(preference);
		if (strength != null && !(strength > 0 && strength <= 1)) {
			throw new IllegalArgumentException("not a strength: " + strength);
		}
		if ((density != null && !(density > 0)) || !(packageAmount > 0) || (labelMaxPerM3 != null && !(labelMaxPerM3 > 0))
				|| (labelPerPpm != null && !(labelPerPpm > 0))
				|| (tabletGrams != null && !(tabletGrams > 0)) || (scoop != null && !(scoop > 0))
				|| (priceCents != null && priceCents < 0)) {
			throw new IllegalArgumentException(
					"density, package, maximum, rate, tablet and scoop must be above zero, the price not below it");
		}
	}

	/** A product of a kind with the usual strength, density and package, at the middle of the usual price, on the truck. */
	public static Product usual(String id, ProductKind kind) {
		return new Product(id, kind, kind.name(), kind.strength(), kind.basis(), kind.density(), kind.pricedAmount(),
				Long.valueOf((kind.priceLowCents() + kind.priceHighCents()) / 2), null, null,
				(kind.form() == PhysicalForm.TABLET) ? Double.valueOf(227) : null, true, null, ProductPreference.NONE, null);
	}

	public Product withStrength(@Nullable Double strength, @Nullable StrengthBasis basis) {
		return new Product(this.id, this.kind, this.name, strength, basis, this.density, this.packageAmount, this.priceCents,
				this.labelMaxPerM3, this.labelPerPpm, this.tabletGrams, this.onTruck, this.scoop, this.preference, null);
	}

	public Product withPrice(double packageAmount, @Nullable Long priceCents) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, packageAmount, priceCents,
				this.labelMaxPerM3, this.labelPerPpm, this.tabletGrams, this.onTruck, this.scoop, this.preference, this.age);
	}

	public Product withLabelMaxPerM3(@Nullable Double labelMaxPerM3) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, this.packageAmount, this.priceCents,
				labelMaxPerM3, this.labelPerPpm, this.tabletGrams, this.onTruck, this.scoop, this.preference, this.age);
	}

	public Product withLabelPerPpm(@Nullable Double labelPerPpm) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, this.packageAmount, this.priceCents,
				this.labelMaxPerM3, labelPerPpm, this.tabletGrams, this.onTruck, this.scoop, this.preference, this.age);
	}

	public Product withTabletGrams(@Nullable Double tabletGrams) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, this.packageAmount, this.priceCents,
				this.labelMaxPerM3, this.labelPerPpm, tabletGrams, this.onTruck, this.scoop, this.preference, this.age);
	}

	public Product withOnTruck(boolean onTruck) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, this.packageAmount, this.priceCents,
				this.labelMaxPerM3, this.labelPerPpm, this.tabletGrams, onTruck, this.scoop, this.preference, this.age);
	}

	public Product withScoop(@Nullable Double scoop) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, this.packageAmount, this.priceCents,
				this.labelMaxPerM3, this.labelPerPpm, this.tabletGrams, this.onTruck, scoop, this.preference, this.age);
	}

	public Product withPreference(ProductPreference preference) {
		return new Product(this.id, this.kind, this.name, this.strength, this.basis, this.density, this.packageAmount, this.priceCents,
				this.labelMaxPerM3, this.labelPerPpm, this.tabletGrams, this.onTruck, this.scoop, preference, this.age);
	}

	/**
	 * As it is after so many days of storage: liquid chlorine of known strength loses some, all else is as on the label. Rounded to
	 * 0.001 percent, as doses are recorded.
	 *
	 * @param days since delivery; none = fresh
	 */
	public Product aged(int days, StorageTemperature storage) {
		if (this.kind.ingredient() != ActiveIngredient.SODIUM_HYPOCHLORITE || this.strength == null || !strengthKnown() || days <= 0) {
			return this;
		}
		// mg/L of 1 mL in 1 L are g/L of the product itself
		double left = this.strength * HypochloriteDecay.remaining(ProductEffects.concentration(this, 1, 1), days, storage.mean());
		return new Product(this.id, this.kind, this.name, Math.max(1, Math.rint(left * 1e5)) / 1e5, this.basis, this.density,
				this.packageAmount, this.priceCents, this.labelMaxPerM3, this.labelPerPpm, this.tabletGrams, this.onTruck, this.scoop,
				this.preference,
				new ProductAge(this.strength, days, storage));
	}

	/** Stabilizer in grains dissolves over most of a week; common practice, no source. */
	public boolean dissolvesSlowly() {
		return this.kind.ingredient() == ActiveIngredient.CYANURIC_ACID && unit() == AmountUnit.G;
	}

	public AmountUnit unit() {
		return this.kind.unit();
	}

	public double densityOrUsual() {
		return (this.density != null) ? this.density : this.kind.density();
	}

	/** Whether enough is known about its strength to work out a dose. */
	public boolean strengthKnown() {
		return ProductEffects.activePerUnit(this.kind, this.strength, this.basis, densityOrUsual()).isPresent();
	}

	/**
	 * Whether the amount of a product that binds metal or phosphate follows from the reading: its label gives a rate for each ppm, or for
	 * phosphate it names the lanthanum in it.
	 */
	public boolean bindsKnownAmount() {
		return switch (this.kind.ingredient()) {
			case SEQUESTRANT -> this.labelPerPpm != null;
			case LANTHANUM -> this.labelPerPpm != null || strengthKnown();
			default -> false;
		};
	}

	/** Most in one addition for so much water by the label or, where no label figure is known, by common practice; null = none known. */
	public @Nullable Double mostFor(double litres) {
		if (this.labelMaxPerM3 != null) {
			return this.labelMaxPerM3 * litres / 1000;
		}
		Double most = this.kind.mostPerLitre();
		return (most == null) ? null : Double.valueOf(most * litres);
	}

}
