package org.meniscus.water.product;

import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.ChlorineStrength;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.Level;
import org.meniscus.water.units.AmountUnit;

/**
 * What an amount of a product does to a water, by stoichiometry and equilibrium. Pure substances: calcium hypochlorite of commerce
 * brings up to a quarter more hardness than worked out here.
 */
public final class ProductEffects {

	private ProductEffects() {
	}

	/** Whether the engine can work with this product at all: amounts are computed and its strength is known. */
	public static boolean computable(Product product) {
		return product.kind().dosing() == ProductKind.DoseBasis.COMPUTED && product.strengthKnown();
	}

	/**
	 * Milligrams per litre of what the product is dosed as: available chlorine as Cl2 for chlorine, KHSO5 for the non-chlorine
	 * oxidizer, CaCO3 for calcium chloride, boron for borates, the metal or phosphate that it binds for a sequestrant and a phosphate
	 * remover, the pure substance for all others.
	 *
	 * @param amount grams or millilitres
	 */
	public static double concentration(Product product, double amount, double litres) {
		return amount * activePerUnit(product) * 1000 / litres;
	}

	/** Grams or millilitres for a concentration as in {@link #concentration}. */
	public static double amount(Product product, double concentration, double litres) {
		return concentration * litres / 1000 / activePerUnit(product);
	}

	/** The water just after; chlorine not used up yet, the non-chlorine oxidizer used up. */
	public static Water after(Water water, Product product, double amount, double litres) {
		return afterConcentration(water, product, concentration(product, amount, litres));
	}

	/** Direct changes of levels once the chlorine brought is used up; pH is left out, it follows from the whole water. */
	public static Map<Level, Double> lasting(Product product, double amount, double litres) {
		return lasting(product.kind().ingredient(), concentration(product, amount, litres));
	}

	/**
	 * The same by stoichiometry, for a concentration as in {@link #concentration}; the non-chlorine oxidizer leaves the acid of half a
	 * mole of KHSO4 and of each KHSO5.
	 */
	public static Map<Level, Double> lasting(ActiveIngredient ingredient, double concentration) {
		Map<Level, Double> changes = new EnumMap<>(Level.class);
		if (ingredient.chlorine()) {
			ChlorineSource source = source(ingredient);
			changes.put(Level.TA, (source.alkalinity() - Stoichiometry.TA_PER_CHLORINE) * concentration);
			changes.put(Level.CH, source.hardness() * concentration);
			changes.put(Level.CYA, source.cyanuricAcid() * concentration);
			changes.put(Level.SALT, (source.salt() + Stoichiometry.SALT_PER_CHLORINE) * concentration);
			changes.put(Level.BORATE, 0.0);
		}
		else if (ingredient == ActiveIngredient.MONOPERSULFATE) {
			changes.put(Level.TA, -1.5 * Stoichiometry.CACO3_EQUIVALENT / Stoichiometry.POTASSIUM_MONOPERSULFATE * concentration);
		}
		else {
			Reagent reagent = reagent(ingredient);
			changes.put(Level.TA, reagent.alkalinity() * concentration);
			changes.put(Level.CH, reagent.hardness() * concentration);
			changes.put(Level.CYA, reagent.cyanuricAcid() * concentration);
			changes.put(Level.SALT, reagent.salt() * concentration);
			changes.put(Level.BORATE, reagent.borate() * concentration);
		}
		return changes;
	}

	public static Water afterConcentration(Water water, Product product, double concentration) {
		return switch (product.kind().ingredient()) {
			case SODIUM_HYPOCHLORITE, CALCIUM_HYPOCHLORITE, DICHLOR, TRICHLOR ->
				Dosing.addChlorine(water, source(product.kind().ingredient()), concentration);
			case MONOPERSULFATE -> Dosing.addAndSpendMonopersulfate(water, concentration * Stoichiometry.MONOPERSULFATE_TRIPLE_SALT
					/ (2 * Stoichiometry.POTASSIUM_MONOPERSULFATE));
			// What they take of alkalinity, 1 ppm for each ppm of phosphate, is less than a test shows.
			case LANTHANUM, SEQUESTRANT -> water;
			default -> Dosing.add(water, reagent(product.kind().ingredient()), concentration);
		};
	}

	/** Bromine, mg/L as Br2, that an amount makes of bromide: a mole of it for each mole of chlorine or KHSO5; zero for all others. */
	public static double bromine(Product product, double amount, double litres) {
		ActiveIngredient ingredient = product.kind().ingredient();
		if (!ingredient.chlorine() && ingredient != ActiveIngredient.MONOPERSULFATE) {
			return 0;
		}
		return concentration(product, amount, litres) * Stoichiometry.BROMINE
				/ (ingredient.chlorine() ? Stoichiometry.CHLORINE : Stoichiometry.POTASSIUM_MONOPERSULFATE);
	}

	static ChlorineSource source(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case SODIUM_HYPOCHLORITE -> ChlorineSource.SODIUM_HYPOCHLORITE;
			case CALCIUM_HYPOCHLORITE -> ChlorineSource.CALCIUM_HYPOCHLORITE;
			case DICHLOR -> ChlorineSource.DICHLOR;
			case TRICHLOR -> ChlorineSource.TRICHLOR;
			default -> throw new IllegalArgumentException("not a chlorine: " + ingredient);
		};
	}

	public static Reagent reagent(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case MURIATIC_ACID -> Reagent.HYDROCHLORIC_ACID;
			case DRY_ACID -> Reagent.SODIUM_BISULFATE;
			case SODA_ASH -> Reagent.SODIUM_CARBONATE;
			case BICARBONATE -> Reagent.SODIUM_BICARBONATE;
			case CALCIUM_CHLORIDE -> Reagent.CALCIUM_CHLORIDE;
			case CYANURIC_ACID -> Reagent.CYANURIC_ACID;
			case SALT -> Reagent.SODIUM_CHLORIDE;
			case BORIC_ACID -> Reagent.BORIC_ACID;
			case BORAX -> Reagent.BORAX;
			default -> throw new IllegalArgumentException("its effect is not worked out: " + ingredient);
		};
	}

	private static double activePerUnit(Product product) {
		Double label = product.labelPerPpm();
		if (label != null) {
			return 1 / label;
		}
		return activePerUnit(product.kind(), product.strength(), product.basis(), product.densityOrUsual())
			.orElseThrow(() -> new IllegalArgumentException("no amount is worked out for " + product.name()));
	}

	/**
	 * Grams of what a product is dosed as, as in {@link #concentration}, in one gram or one millilitre of it; tablets of a feeder too:
	 * what is in the water counts.
	 *
	 * @param strength fraction in {@code basis}, null when not known
	 * @param density kg/L, of a liquid
	 * @return empty when the strength is not known, or for liquid chlorine not whether it is by weight or by volume
	 */
	static OptionalDouble activePerUnit(ProductKind kind, @Nullable Double strength, @Nullable StrengthBasis basis, double density) {
		if (strength == null) {
			return OptionalDouble.empty();
		}
		if (kind.ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE) {
			if (basis == null || basis == StrengthBasis.PURITY) {
				return OptionalDouble.empty();
			}
			return OptionalDouble.of(((basis == StrengthBasis.TRADE) ? ChlorineStrength.gramsPerLitreOfTradePercent(100 * strength)
					: ChlorineStrength.gramsPerLitreOfWeightPercent(100 * strength)) / 1000);
		}
		if (basis != null && basis != StrengthBasis.PURITY) {
			return OptionalDouble.empty();
		}
		return OptionalDouble.of(strength * ((kind.unit() == AmountUnit.ML) ? density : 1) * asDosed(kind.ingredient()));
	}

	/** Grams of what an ingredient is dosed as, as in {@link #concentration}, in one gram of the pure substance. */
	private static double asDosed(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case CALCIUM_CHLORIDE -> Stoichiometry.CALCIUM_CARBONATE / Stoichiometry.CALCIUM_CHLORIDE;
			case BORIC_ACID -> Stoichiometry.BORON / Stoichiometry.BORIC_ACID;
			case BORAX -> 4 * Stoichiometry.BORON / Stoichiometry.BORAX_PENTAHYDRATE;
			// La + PO4 = LaPO4: 1.46 g of lanthanum for each gram of phosphate
			case LANTHANUM -> Stoichiometry.PHOSPHATE / Stoichiometry.LANTHANUM;
			default -> 1;
		};
	}

	/** Whether a dose of this ingredient moves a level that lasts. */
	public static boolean lasts(ActiveIngredient ingredient) {
		return ingredient.chlorine() || ingredient == ActiveIngredient.MONOPERSULFATE || switch (ingredient) {
			case MURIATIC_ACID, DRY_ACID, SODA_ASH, BICARBONATE, CALCIUM_CHLORIDE, CYANURIC_ACID, SALT, BORIC_ACID, BORAX -> true;
			default -> false;
		};
	}

}
