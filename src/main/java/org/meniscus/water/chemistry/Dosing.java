package org.meniscus.water.chemistry;

import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;

import org.meniscus.water.units.RootFinder;
import org.meniscus.water.units.Temperature;

/**
 * What a dose, a loss or new water does to every level. Closed to the air, that is with inorganic carbon conserved, unless a
 * method says otherwise. Alkalinity, carbon, calcium, chloride, borate, cyanurate and chlorine follow by stoichiometry; the pH is
 * then the root of the alkalinity balance. Every method throws {@link IllegalArgumentException} for a water that cannot exist
 * and where the answer would leave the range of {@link Water}.
 */
public final class Dosing {

	private static final double MILLIGRAMS_PER_EQUIVALENT = 1000 * Stoichiometry.CACO3_EQUIVALENT;

	/** No dose or precipitation searched for is above this, mg/L. */
	private static final double MAX_SEARCH = 20_000;

	/** Less carbonate alkalinity than none by this much, eq/kg, is a rounding error. */
	private static final double ROUNDING = 1e-10;

	private Dosing() {
	}

	/** After {@code dose} of a pure reagent, in the unit its name says; negative takes it away again. */
	public static Water add(Water water, Reagent reagent, double dose) {
		return add(water, reagent, dose, CyanurateConstants.WAHMAN);
	}

	public static Water add(Water water, Reagent reagent, double dose, CyanurateConstants constants) {
		return settle(water, reagent.levels(water, dose), reagent.carbon() * dose / 1000, constants);
	}

	/** At once after {@code chlorine} mg/L Cl2 from a source, nothing of it used up yet. */
	public static Water addChlorine(Water water, ChlorineSource source, double chlorine) {
		return addChlorine(water, source, chlorine, CyanurateConstants.WAHMAN);
	}

	public static Water addChlorine(Water water, ChlorineSource source, double chlorine, CyanurateConstants constants) {
		Water levels = new Water(water.ph(), water.totalAlkalinity() + source.alkalinity() * chlorine,
				water.calciumHardness() + source.hardness() * chlorine, water.cyanuricAcid() + source.cyanuricAcid() * chlorine,
				water.freeChlorine() + chlorine, Math.max(0, water.salt() + source.salt() * chlorine), water.borate(), water.sulfate(),
				water.temperature());
		return settle(water, levels, 0, constants);
	}

	/** After {@code chlorine} mg/L Cl2 of free chlorine has been used up: each HOCl leaves one chloride and one hydrogen ion. */
	public static Water spendChlorine(Water water, double chlorine) {
		return spendChlorine(water, chlorine, CyanurateConstants.WAHMAN);
	}

	public static Water spendChlorine(Water water, double chlorine, CyanurateConstants constants) {
		Water levels = new Water(water.ph(), water.totalAlkalinity() - Stoichiometry.TA_PER_CHLORINE * chlorine, water.calciumHardness(),
				water.cyanuricAcid(), Math.max(0, water.freeChlorine() - chlorine),
				water.salt() + Stoichiometry.SALT_PER_CHLORINE * chlorine,
				water.borate(), water.sulfate(), water.temperature());
		return settle(water, levels, 0, constants);
	}

	/** After {@code tripleSalt} mg/L of pure triple salt has been added and all its KHSO5 has become sulfate. */
	public static Water addAndSpendMonopersulfate(Water water, double tripleSalt) {
		double moles = tripleSalt / Stoichiometry.MONOPERSULFATE_TRIPLE_SALT;
		Water levels = water.withTotalAlkalinity(water.totalAlkalinity() - 3 * moles * Stoichiometry.CACO3_EQUIVALENT)
			.withSulfate(water.sulfate() + 4 * moles * Stoichiometry.SULFATE);
		return settle(water, levels, 0, CyanurateConstants.WAHMAN);
	}

	/**
	 * Dose of a reagent that brings the pH to a target, in the unit its name says; zero when it is there already, empty when this reagent
	 * cannot do it, such as an acid asked to raise the pH.
	 */
	public static OptionalDouble doseForPh(Water water, Reagent reagent, double targetPh) {
		return doseForPh(water, reagent, targetPh, CyanurateConstants.WAHMAN);
	}

	public static OptionalDouble doseForPh(Water water, Reagent reagent, double targetPh, CyanurateConstants constants) {
		double carbon = carbonOf(water, constants);
		// Alkalinity that is there beyond what the target pH needs: its sign is the sign of (pH - target).
		DoubleUnaryOperator excess = dose -> {
			Water levels = reagent.levels(water, dose);
			Equilibrium at = Equilibrium.of(levels, constants);
			at.totalCarbon = carbon + reagent.carbon() * dose / 1000;
			return levels.totalAlkalinity() / MILLIGRAMS_PER_EQUIVALENT - at.alkalinityAt(targetPh);
		};
		double start = excess.applyAsDouble(0);
		if (Math.abs(targetPh - water.ph()) < 1e-9) {
			return OptionalDouble.of(0);
		}
		double high = firstGuess(start, excess.applyAsDouble(1));
		while (excess.applyAsDouble(high) * start > 0) {
			high *= 2;
			if (high > MAX_SEARCH) {
				return OptionalDouble.empty();
			}
		}
		return OptionalDouble.of(RootFinder.regulaFalsi(excess, 0, high));
	}

	/** A dose near the root by the change of the first mg/L, a little more than it: alkalinity is nearly linear in the dose. */
	private static double firstGuess(double start, double atOne) {
		double guess = 1.02 * start / (start - atOne);
		return (guess > 0 && guess < MAX_SEARCH) ? guess : 1;
	}

	/**
	 * Least dose of a reagent, in the unit its name says, that brings the {@link Speciation#calciteSaturationIndex() saturation index} to a
	 * value, up to a largest dose; that one where no dose up to it crosses the value.
	 */
	public static double doseForSaturationIndex(Water water, Reagent reagent, double index, double most) {
		double carbon = carbonOf(water, CyanurateConstants.WAHMAN);
		double[] ph = { water.ph() };
		DoubleUnaryOperator beyond = dose -> {
			Water levels = reagent.levels(water, dose);
			Equilibrium at = Equilibrium.of(levels, CyanurateConstants.WAHMAN);
			at.totalCarbon = Math.max(0, carbon + reagent.carbon() * dose / 1000);
			ph[0] = at.closedPh(levels.totalAlkalinity() / MILLIGRAMS_PER_EQUIVALENT, ph[0]);
			at.alkalinityAt(ph[0]);
			return at.saturationIndex() - index;
		};
		return (beyond.applyAsDouble(0) * beyond.applyAsDouble(most) >= 0) ? most : RootFinder.regulaFalsi(beyond, 0, most);
	}

	/** After a share of the water has been drained and replaced; both waters at the pool's temperature. @param fraction 0 to 1 */
	public static Water replace(Water pool, Water fill, double fraction) {
		if (!(fraction >= 0 && fraction <= 1)) {
			throw new IllegalArgumentException("not a share of the water: " + fraction);
		}
		Water filling = fill.withTemperature(pool.temperature());
		double rest = 1 - fraction;
		Water levels = new Water(pool.ph(), rest * pool.totalAlkalinity() + fraction * filling.totalAlkalinity(),
				rest * pool.calciumHardness() + fraction * filling.calciumHardness(),
				rest * pool.cyanuricAcid() + fraction * filling.cyanuricAcid(),
				rest * pool.freeChlorine() + fraction * filling.freeChlorine(), rest * pool.salt() + fraction * filling.salt(),
				rest * pool.borate() + fraction * filling.borate(), rest * pool.sulfate() + fraction * filling.sulfate(),
				pool.temperature());
		double carbon = rest * carbonOf(pool, CyanurateConstants.WAHMAN) + fraction * carbonOf(filling, CyanurateConstants.WAHMAN);
		return closed(levels, carbon, pool.ph(), CyanurateConstants.WAHMAN);
	}

	/** The same water warmed or cooled. */
	public static Water atTemperature(Water water, Temperature temperature) {
		return settle(water, water.withTemperature(temperature), 0, CyanurateConstants.WAHMAN);
	}

	/** Water, and the CO2 in mg/L that left it; negative when it took some up. */
	public record Exchanged(Water water, double carbonDioxideLost) {
	}

	/** In equilibrium with air. @param pressure of CO2 in atm, 420e-6 for 420 ppm by volume at 1 atm */
	public static Exchanged equilibrateWithAir(Water water, double pressure) {
		double before = carbonOf(water, CyanurateConstants.WAHMAN);
		Equilibrium at = Equilibrium.of(water, CyanurateConstants.WAHMAN);
		double ph = at.openPh(water.totalAlkalinity() / MILLIGRAMS_PER_EQUIVALENT, water.ph(), pressure);
		return new Exchanged(water.withPh(ph), (before - at.totalCarbon) * 1000 * Stoichiometry.CARBON_DIOXIDE);
	}

	/** After so many mg/L of CO2 have left. */
	public static Water loseCarbonDioxide(Water water, double milligramsPerLitre) {
		return add(water, Reagent.CARBON_DIOXIDE, -milligramsPerLitre);
	}

	/** What calcite would have to fall out to bring the saturation index to zero, mg/L CaCO3 (negative: dissolve), and the water then. */
	public record Precipitation(double calciumCarbonate, Water water) {
	}

	/** Calcium carbonate precipitation potential, closed to the air. */
	public static Precipitation carbonatePrecipitationPotential(Water water) {
		double carbon = carbonOf(water, CyanurateConstants.WAHMAN);
		// Nothing more can fall out than there is calcium or carbon; near that the index goes to minus infinity.
		double most = Math.min(water.calciumHardness(), carbon * 1000 * Stoichiometry.CALCIUM_CARBONATE);
		DoubleUnaryOperator index = amount -> {
			Water after = precipitated(water, carbon, amount);
			double value = Speciation.of(after).calciteSaturationIndex();
			return Double.isInfinite(value) ? -100 : value;
		};
		double now = index.applyAsDouble(0);
		if (now > 0) {
			double amount = RootFinder.regulaFalsi(index, 0, most * (1 - 1e-9));
			return new Precipitation(amount, precipitated(water, carbon, amount));
		}
		double low = -1;
		while (index.applyAsDouble(low) < 0) {
			low *= 2;
			if (low < -MAX_SEARCH) {
				throw new IllegalArgumentException("calcite never saturates this water");
			}
		}
		double amount = RootFinder.regulaFalsi(index, low, 0);
		return new Precipitation(amount, precipitated(water, carbon, amount));
	}

	private static Water precipitated(Water water, double carbon, double amount) {
		Water levels = water.withTotalAlkalinity(water.totalAlkalinity() - amount)
			.withCalciumHardness(Math.max(0, water.calciumHardness() - amount));
		return closed(levels, carbon - amount / (1000 * Stoichiometry.CALCIUM_CARBONATE), water.ph(), CyanurateConstants.WAHMAN);
	}

	/** The pH that the water with new levels settles at, when its carbon has changed by so many mol/kg. */
	private static Water settle(Water before, Water levels, double carbonChange, CyanurateConstants constants) {
		return closed(levels, carbonOf(before, constants) + carbonChange, before.ph(), constants);
	}

	private static Water closed(Water levels, double carbon, double guess, CyanurateConstants constants) {
		Equilibrium at = Equilibrium.of(levels, constants);
		at.totalCarbon = Math.max(0, carbon);
		return levels.withPh(at.closedPh(levels.totalAlkalinity() / MILLIGRAMS_PER_EQUIVALENT, guess));
	}

	/** Inorganic carbon, mol/kg. */
	private static double carbonOf(Water water, CyanurateConstants constants) {
		Equilibrium at = Equilibrium.of(water, constants);
		double alkalinity = water.totalAlkalinity() / MILLIGRAMS_PER_EQUIVALENT;
		double left = at.carbonFromAlkalinity(water.ph(), alkalinity);
		if (left < -ROUNDING) {
			throw new IllegalArgumentException("at pH " + water.ph() + " stabilizer, borate and chlorine alone hold "
					+ Math.round(water.totalAlkalinity() - left * MILLIGRAMS_PER_EQUIVALENT)
					+ " mg/L of alkalinity, but total alkalinity was read as " + water.totalAlkalinity() + " mg/L: repeat the tests");
		}
		return at.totalCarbon;
	}

}
