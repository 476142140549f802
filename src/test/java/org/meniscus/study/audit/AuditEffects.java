package org.meniscus.study.audit;

import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Step;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StrengthBasis;

/**
 * What an amount of a product does to the levels, by the figures printed in {@code reference/side-effects.csv},
 * {@code side-effects-other.csv} and {@code product-doses.csv}: none of the engine's arithmetic.
 */
final class AuditEffects {

	private AuditEffects() {
	}

	/** TA, CH, CYA and salt in ppm for each ppm of chlorine at its addition: side-effects.csv, a tenth of its rows. */
	static double[] chlorine(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case SODIUM_HYPOCHLORITE -> new double[]{ 0.7058, 0, 0, 0.8243 };
			case CALCIUM_HYPOCHLORITE -> new double[]{ 0.7058, 0.7058, 0, 0 };
			case DICHLOR -> new double[]{ 0.3529, 0, 0.9103, 0 };
			case TRICHLOR -> new double[]{ 0, 0, 0.6068, 0 };
			default -> throw new IllegalArgumentException("not a chlorine: " + ingredient);
		};
	}

	/** Whether its effect is worked out here: not that of what only a label doses, nor of tablets, which give nothing at once. */
	static boolean known(Product product) {
		return product.kind().dosing() == ProductKind.DoseBasis.COMPUTED && product.strength() != null;
	}

	/** Just after, chlorine not used up, monopersulfate used up. Grams or millilitres, litres. */
	static AuditWater after(AuditWater water, Product product, double amount, double litres) {
		double ppm = amount * perUnit(product) * 1000 / litres;
		return switch (product.kind().ingredient()) {
			case SODIUM_HYPOCHLORITE, CALCIUM_HYPOCHLORITE, DICHLOR, TRICHLOR -> {
				double[] effect = chlorine(product.kind().ingredient());
				yield water.plus(0, effect[0] * ppm, effect[1] * ppm, effect[2] * ppm, ppm, effect[3] * ppm, 0, 0);
			}
			case MURIATIC_ACID -> water.plus(0, -1.3726 * ppm, 0, 0, 0, 1.1678 * 1.3726 * ppm, 0, 0);
			case DRY_ACID -> water.plus(0, -0.41684 * ppm, 0, 0, 0, 0, 0, 1.9195 * 0.41684 * ppm);
			case SODA_ASH -> water.plus(ppm / 105_988, 0.94431 * ppm, 0, 0, 0, 0, 0, 0);
			case BICARBONATE -> water.plus(ppm / 84_006, 0.59571 * ppm, 0, 0, 0, 0, 0, 0);
			case CALCIUM_CHLORIDE -> water.plus(0, 0, ppm, 0, 0, 1.1678 * ppm, 0, 0);
			case CYANURIC_ACID -> water.plus(0, 0, 0, ppm, 0, 0, 0, 0);
			case SALT -> water.plus(0, 0, 0, 0, 0, ppm, 0, 0);
			case BORIC_ACID -> water.plus(0, 0, 0, 0, 0, 0, ppm, 0);
			case BORAX -> water.plus(0, 2.3147 * ppm, 0, 0, 0, 0, ppm, 0);
			case MONOPERSULFATE -> water.plus(0, -1.0587 * ppm, 0, 0, 0, 0, 0, 2.7096 * ppm);
			default -> water;
		};
	}

	/** Chlorine in ppm that an amount brings; zero for what is none. */
	static double chlorinePpm(Product product, double amount, double litres) {
		return product.kind().ingredient().chlorine() ? amount * perUnit(product) * 1000 / litres : 0;
	}

	/** Chlorine in ppm that the plan's tablets bring in all. */
	static double fed(Plan plan, double litres) {
		return plan.steps()
			.stream()
			.filter(step -> step.purpose() == Step.Purpose.FEED)
			.mapToDouble(step -> (step.amount() == null) ? 0 : chlorinePpm(step.product(), step.amount().amount(), litres))
			.sum();
	}

	/** Grams of what the figures above are stated for in a gram or millilitre of product. */
	private static double perUnit(Product product) {
		Double strength = product.strength();
		if (strength == null) {
			throw new IllegalArgumentException("strength not known: " + product.name());
		}
		return switch (product.kind().ingredient()) {
			// available chlorine: trade percent is grams in 100 mL; percent by weight as in section 2.8 of the reference
			case SODIUM_HYPOCHLORITE -> {
				double available = strength * 70.90 / 74.439;
				yield (product.basis() == StrengthBasis.WEIGHT) ? available / (1 - 1000 * available * 0.16 / 120) : strength;
			}
			case MURIATIC_ACID -> strength * product.densityOrUsual();
			case CALCIUM_CHLORIDE -> strength * 0.90185;
			case BORIC_ACID -> strength * 0.17483;
			// pentahydrate: 4 x 10.81 / 291.29
			case BORAX -> strength * 0.14844;
			// oxidizer as chlorine: 70.90 / 152.160 of the KHSO5
			case MONOPERSULFATE -> strength * 70.90 / 152.160;
			default -> strength;
		};
	}

}
