package org.meniscus.water.product;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.ChlorineStrength;
import org.meniscus.water.pool.Level;
import org.meniscus.water.units.AmountUnit;

/**
 * A dose as a visit recorded it, and what it leaves in the water for good, by the stoichiometry of the pure substance. Calcium
 * hypochlorite of commerce carries some more calcium; what that adds shows up as unexplained drift.
 *
 * @param strength fraction in {@code basis}; null when it was not known
 * @param amount grams of a solid, millilitres of a liquid
 */
public record RecordedDose(ProductKind kind, @Nullable Double strength, @Nullable StrengthBasis basis, double amount) {

	/**
	 * Change of each lasting level by this dose in so much water, chlorine and oxidizer used up; levels it leaves alone are
	 * absent.
	 *
	 * @return empty when it cannot be told because the strength is not known
	 */
	public Optional<Map<Level, Double>> lasting(double litres) {
		ActiveIngredient family = kind.family();
		if (!ProductEffects.lasts(family)) {
			return Optional.of(Map.of());
		}
		Optional<Double> dosed = family.chlorine() ? chlorine(litres)
				: substance(litres).map(pure -> pure * ProductEffects.asDosed(family));
		return dosed.map(concentration -> moved(ProductEffects.lasting(family, concentration)));
	}

	/** Free chlorine it brings, mg/L as Cl2; empty when the strength is not known or it is no chlorine. */
	public Optional<Double> chlorine(double litres) {
		if (kind.family() != ActiveIngredient.SODIUM_HYPOCHLORITE) {
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

	private static Map<Level, Double> moved(Map<Level, Double> changes) {
		Map<Level, Double> moved = new EnumMap<>(Level.class);
		changes.forEach((level, change) -> {
			if (Math.abs(change) > 1e-12) {
				moved.put(level, change);
			}
		});
		return moved;
	}

}
