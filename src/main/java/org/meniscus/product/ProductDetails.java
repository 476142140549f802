package org.meniscus.product;

import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StrengthBasis;

/**
 * What is kept about a product.
 *
 * @param name 1 to 120 characters
 * @param strengthPercent above 0, at most 100, in the basis; null when not known, then no dose is worked out
 * @param basis TRADE or WEIGHT for liquid chlorine, PURITY for everything else
 * @param density kg/L, 0.1 to 3; null for the usual one
 * @param packageAmount what the price is for, grams of a solid or millilitres of a liquid, 1 to 100,000,000
 * @param labelMaxPerM3 most in one addition by the label, grams or millilitres per cubic metre of pool water; null when not known
 * @param labelPerPpm what the label gives for each ppm of metal or phosphate, grams or millilitres per cubic metre; null when not known
 * @param tabletGrams weight of one tablet, 1 to 1,000 g; null when it does not come in tablets
 * @param scoop grams or millilitres in one level scoop, cup or cap that lies with it, 0.5 to 5,000; null when it is weighed or poured
 * @param cautions at most 2,000 characters, or null
 * @param preference what the company has decided about it for its plans
 * @param delivery of what is in stock of a liquid chlorine; null when not known, then its strength counts as on the label
 */
public record ProductDetails(ProductKind kind, String name, @Nullable Double strengthPercent, StrengthBasis basis,
		@Nullable Double density, double packageAmount, @Nullable Double labelMaxPerM3, @Nullable Double labelPerPpm,
		@Nullable Double tabletGrams,
		@Nullable Double scoop, @Nullable String cautions, boolean onTruck, ProductPreference preference, @Nullable Delivery delivery) {

	public static final int NAME_MAX = 120;

	public static final int CAUTIONS_MAX = 2000;

	public static final double DENSITY_MIN = 0.1;

	public static final double DENSITY_MAX = 3;

	public static final double PACKAGE_MIN = 1;

	public static final double PACKAGE_MAX = 100_000_000;

	public static final double LABEL_MIN = 0.001;

	public static final double LABEL_MAX = 100_000;

	public static final double TABLET_MIN = 1;

	public static final double TABLET_MAX = 1000;

	public static final double SCOOP_MIN = 0.5;

	public static final double SCOOP_MAX = 5000;

	/** @throws IllegalArgumentException when a text or figure is outside what is said above, or the basis does not go with the kind */
	public ProductDetails {
		Objects.requireNonNull(kind);
		Objects.requireNonNull(preference);
		name = withoutControls(name, ' ').strip();
		cautions = (cautions == null || cautions.isBlank()) ? null : withoutControls(cautions.replace("\r\n", "\n"), '\n').strip();
		if (name.isEmpty() || name.length() > NAME_MAX || (cautions != null && cautions.length() > CAUTIONS_MAX)) {
			throw new IllegalArgumentException("text missing or too long");
		}
		checkRange("strength", strengthPercent, Double.MIN_VALUE, 100);
		checkRange("density", density, DENSITY_MIN, DENSITY_MAX);
		checkRange("package", packageAmount, PACKAGE_MIN, PACKAGE_MAX);
		checkRange("label maximum", labelMaxPerM3, LABEL_MIN, LABEL_MAX);
		checkRange("label rate", labelPerPpm, LABEL_MIN, LABEL_MAX);
		checkRange("tablet", tabletGrams, TABLET_MIN, TABLET_MAX);
		checkRange("scoop", scoop, SCOOP_MIN, SCOOP_MAX);
		if (delivery != null && !hasStrengthBasis(kind)) {
			throw new IllegalArgumentException(kind + " keeps its strength");
		}
		if (hasStrengthBasis(kind) == (basis == StrengthBasis.PURITY)) {
			throw new IllegalArgumentException(basis + " does not go with " + kind);
		}
	}

	public ProductDetails withScoop(@Nullable Double scoop) {
		return new ProductDetails(kind, name, strengthPercent, basis, density, packageAmount, labelMaxPerM3, labelPerPpm, tabletGrams,
				scoop, cautions,
				onTruck, preference, delivery);
	}

	public ProductDetails withPreference(ProductPreference preference) {
		return new ProductDetails(kind, name, strengthPercent, basis, density, packageAmount, labelMaxPerM3, labelPerPpm, tabletGrams,
				scoop, cautions,
				onTruck, preference, delivery);
	}

	public ProductDetails withDelivery(@Nullable Delivery delivery) {
		return new ProductDetails(kind, name, strengthPercent, basis, density, packageAmount, labelMaxPerM3, labelPerPpm, tabletGrams,
				scoop, cautions,
				onTruck, preference, delivery);
	}

	/** Its label gives an amount for each ppm of what it binds. */
	public static boolean hasLabelRate(ProductKind kind) {
		return kind.ingredient() == ActiveIngredient.SEQUESTRANT || kind.ingredient() == ActiveIngredient.LANTHANUM;
	}

	/** Tablets are counted. */
	public static boolean hasScoop(ProductKind kind) {
		return kind.form() != PhysicalForm.TABLET;
	}

	/** Liquid chlorine is sold by trade percent and by weight percent, which differ by its density; all else by weight. */
	public static boolean hasStrengthBasis(ProductKind kind) {
		return kind.ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE;
	}

	/** A database keeps no NUL, and nobody means the others; {@code allowed} is the one that stays. */
	private static String withoutControls(String text, char allowed) {
		StringBuilder plain = new StringBuilder(text.length());
		for (int i = 0; i < text.length(); i++) {
			char c = text.charAt(i);
			plain.append((Character.isISOControl(c) && c != allowed) ? ' ' : c);
		}
		return plain.toString();
	}

	private static void checkRange(String what, @Nullable Double value, double min, double max) {
		if (value != null && !(value >= min && value <= max)) {
			throw new IllegalArgumentException(what + " is " + value);
		}
	}

}
