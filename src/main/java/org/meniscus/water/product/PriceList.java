package org.meniscus.water.product;

import java.util.List;
import java.util.function.Predicate;

import org.meniscus.water.pool.Level;

/**
 * What products cost in one pool, in minor units of the company's currency: at the company's price or, without one, at the usual price of
 * the kind.
 *
 * @param litres of the pool
 */
public record PriceList(List<Product> products, double litres) {

	public PriceList {
		products = List.copyOf(products);
	}

	/** Of an amount in grams or millilitres. */
	public static double cost(Product product, double amount) {
		Long price = product.priceCents();
		ProductKind kind = product.kind();
		return (price != null) ? amount * price / product.packageAmount()
				: amount * 0.5 * (kind.priceLowCents() + kind.priceHighCents()) / kind.pricedAmount();
	}

	/** One ppm of FC by the cheapest chlorine that is poured and along; the usual price of liquid chlorine where there is none. */
	public double pouredChlorine() {
		return chlorine(product -> product.kind().ingredient().chlorine() && product.onTruck(), ProductKind.LIQUID_CHLORINE_125);
	}

	/** One ppm of FC by the cheapest liquid chlorine the company wants, along or not; the usual price where it has none. */
	public double liquidChlorine() {
		return chlorine(product -> product.kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE, ProductKind.LIQUID_CHLORINE_125);
	}

	/** One ppm of FC by the cheapest calcium hypochlorite the company wants; infinite where it has none. */
	public double calciumHypochlorite() {
		double least = Double.POSITIVE_INFINITY;
		for (Product product : this.products) {
			if (wanted(product) && product.kind().ingredient() == ActiveIngredient.CALCIUM_HYPOCHLORITE) {
				least = Math.min(least, perFc(product));
			}
		}
		return least;
	}

	/** One ppm of FC by a product of known strength. */
	public double perFc(Product product) {
		return cost(product, ProductEffects.amount(product, 1, this.litres));
	}

	/** One ppm more of CYA, CH, salt or TA by the cheapest product that has a price; at the usual price where none has. */
	public double raise(Level level) {
		return switch (level) {
			case CYA -> perPpm(ActiveIngredient.CYANURIC_ACID, ProductKind.CYA, level);
			case CH -> perPpm(ActiveIngredient.CALCIUM_CHLORIDE, ProductKind.CAL_CHLORIDE_77, level);
			case SALT -> perPpm(ActiveIngredient.SALT, ProductKind.SALT, level);
			case TA -> perPpm(ActiveIngredient.BICARBONATE, ProductKind.BICARB, level);
			default -> throw new IllegalArgumentException("no product raises it for good: " + level);
		};
	}

	/** One ppm less of TA by acid. */
	public double lowerAlkalinity() {
		return perPpm(ActiveIngredient.MURIATIC_ACID, ProductKind.MURIATIC_3145, Level.TA);
	}

	private double chlorine(Predicate<Product> meant, ProductKind usual) {
		double least = Double.POSITIVE_INFINITY;
		for (Product product : this.products) {
			if (meant.test(product) && wanted(product)) {
				least = Math.min(least, perFc(product));
			}
		}
		return (least < Double.POSITIVE_INFINITY) ? least : perFc(Product.usual("usual", usual));
	}

	private static boolean wanted(Product product) {
		return ProductEffects.computable(product) && product.preference() != ProductPreference.NEVER;
	}

	private double perPpm(ActiveIngredient ingredient, ProductKind usual, Level level) {
		double least = Double.POSITIVE_INFINITY;
		for (Product product : this.products) {
			if (product.kind().ingredient() == ingredient && product.priceCents() != null && ProductEffects.computable(product)) {
				least = Math.min(least, perPpm(product, level));
			}
		}
		return (least < Double.POSITIVE_INFINITY) ? least : perPpm(Product.usual("usual", usual), level);
	}

	private double perPpm(Product product, Level level) {
		return cost(product, 1) / Math.abs(ProductEffects.lasting(product, 1, this.litres).getOrDefault(level, 0.0));
	}

}
