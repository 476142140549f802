package org.meniscus.water.season;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.ChlorineStrength;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.treatment.AmountUnit;
import org.meniscus.water.treatment.Family;
import org.meniscus.water.treatment.Level;
import org.meniscus.water.treatment.ProductKind;
import org.meniscus.water.treatment.StrengthBasis;

/**
 * A dose as a visit recorded it, and what it leaves in the water for good, by the stoichiometry of the pure substance. Calcium
 * hypochlorite of commerce carries some more calcium; what that adds shows up as unexplained drift.
 *
 * @param strength fraction in {@code basis}; null when it was not known
 * @param amount grams of a solid, millilitres of a liquid
 */
public record RecordedDose(ProductKind kind, @Nullable Double strength, @Nullable StrengthBasis basis, double amount) {

	/** TA lost, mg/L CaCO3 per mg/L KHSO5, once used up: half a mole of KHSO4 comes along and each KHSO5 leaves one acid. */
	private static final double TA_PER_MONOPERSULFATE = -1.5 * Stoichiometry.CACO3_EQUIVALENT
			/ Stoichiometry.POTASSIUM_MONOPERSULFATE;

	/**
	 * Change of each lasting level by this dose in so much water, chlorine and oxidizer used up; levels it leaves alone are
	 * absent.
	 *
	 * @return empty when it cannot be told because the strength is not known
	 */
	public Optional<Map<Level, Double>> lasting(double litres) {
		Family family = kind.family();
		if (family.chlorine()) {
			return chlorine(litres).map(free -> changes(source(family), free));
		}
		if (family == Family.MONOPERSULFATE) {
			return substance(litres).map(persulfate -> Map.of(Level.TA, TA_PER_MONOPERSULFATE * persulfate));
		}
		Reagent reagent = reagent(family);
		if (reagent == null) {
			return Optional.of(Map.of());
		}
		return substance(litres).map(grams -> changes(reagent, grams * asDosed(family)));
	}

	/** Free chlorine it brings, mg/L as Cl2; empty when the strength is not known or it is no chlorine. */
	public Optional<Double> chlorine(double litres) {
		if (kind.family() != Family.SODIUM_HYPOCHLORITE) {
			return kind.family().chlorine() ? substance(litres) : Optional.empty();
		}
		if (strength == null || basis == null || basis == StrengthBasis.PURITY) {
			return Optional.empty();
		}
		double gramsPerLitre = (basis == StrengthBasis.TRADE) ? ChlorineStrength.gramsPerLitreOfTradePercent(100 * strength)
				: ChlorineStrength.gramsPerLitreOfWeightPercent(100 * strength);
		return Optional.of(amount * gramsPerLitre / litres);
	}

	/** Of the active substance, or of available chlorine, mg/L. */
	private Optional<Double> substance(double litres) {
		if (strength == null) {
			return Optional.empty();
		}
		double grams = amount * ((kind.unit() == AmountUnit.ML) ? kind.density() : 1) * strength;
		return Optional.of(grams * 1000 / litres);
	}

	private static Map<Level, Double> changes(ChlorineSource source, double chlorine) {
		return present(source.alkalinity() * chlorine - Stoichiometry.TA_PER_CHLORINE * chlorine, source.hardness() * chlorine,
				source.cyanuricAcid() * chlorine, (source.salt() + Stoichiometry.SALT_PER_CHLORINE) * chlorine, 0);
	}

	private static Map<Level, Double> changes(Reagent reagent, double dose) {
		return present(reagent.alkalinity() * dose, reagent.hardness() * dose, reagent.cyanuricAcid() * dose,
				reagent.salt() * dose, reagent.borate() * dose);
	}

	private static Map<Level, Double> present(double alkalinity, double hardness, double cyanuricAcid, double salt, double borate) {
		Map<Level, Double> changes = new EnumMap<>(Level.class);
		put(changes, Level.TA, alkalinity);
		put(changes, Level.CH, hardness);
		put(changes, Level.CYA, cyanuricAcid);
		put(changes, Level.SALT, salt);
		put(changes, Level.BORATE, borate);
		return changes;
	}

	private static void put(Map<Level, Double> changes, Level level, double change) {
		if (Math.abs(change) > 1e-12) {
			changes.put(level, change);
		}
	}

	private static ChlorineSource source(Family family) {
		return switch (family) {
			case CALCIUM_HYPOCHLORITE -> ChlorineSource.CALCIUM_HYPOCHLORITE;
			case DICHLOR -> ChlorineSource.DICHLOR;
			case TRICHLOR -> ChlorineSource.TRICHLOR;
			default -> ChlorineSource.SODIUM_HYPOCHLORITE;
		};
	}

	/** Null for what leaves none of the levels followed here changed. */
	private static @Nullable Reagent reagent(Family family) {
		return switch (family) {
			case MURIATIC_ACID -> Reagent.HYDROCHLORIC_ACID;
			case DRY_ACID -> Reagent.SODIUM_BISULFATE;
			case SODA_ASH -> Reagent.SODIUM_CARBONATE;
			case BICARBONATE -> Reagent.SODIUM_BICARBONATE;
			case CALCIUM_CHLORIDE -> Reagent.CALCIUM_CHLORIDE;
			case CYANURIC_ACID -> Reagent.CYANURIC_ACID;
			case SALT -> Reagent.SODIUM_CHLORIDE;
			case BORIC_ACID -> Reagent.BORIC_ACID;
			case BORAX -> Reagent.BORAX;
			default -> null;
		};
	}

	/** Milligrams in the unit of the reagent's dose, per milligram of substance. */
	private static double asDosed(Family family) {
		return switch (family) {
			case CALCIUM_CHLORIDE -> Stoichiometry.CALCIUM_CARBONATE / Stoichiometry.CALCIUM_CHLORIDE;
			case BORIC_ACID -> Stoichiometry.BORON / Stoichiometry.BORIC_ACID;
			case BORAX -> 4 * Stoichiometry.BORON / Stoichiometry.BORAX_PENTAHYDRATE;
			default -> 1;
		};
	}

}
