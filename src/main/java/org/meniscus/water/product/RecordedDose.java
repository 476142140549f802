package org.meniscus.water.product;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;

/**
 * A dose as a visit recorded it, by the stoichiometry of the pure substance. Calcium hypochlorite of commerce carries some more
 * calcium; what that adds shows up as unexplained drift.
 *
 * @param strength fraction in {@code basis}; null when it was not known
 * @param amount grams of a solid, millilitres of a liquid
 */
public record RecordedDose(ProductKind kind, @Nullable Double strength, @Nullable StrengthBasis basis, double amount) {

	/**
	 * Change of each lasting level by this dose in so much water, ppm, chlorine and oxidizer used up; levels it leaves alone are
	 * absent.
	 *
	 * @return empty when the strength is not known
	 */
	public Optional<Map<Level, Double>> lasting(double litres) {
		ActiveIngredient ingredient = this.kind.ingredient();
		if (!ProductEffects.lasts(ingredient)) {
			return Optional.of(Map.of());
		}
		OptionalDouble dosed = concentration(litres);
		if (dosed.isEmpty()) {
			return Optional.empty();
		}
		Map<Level, Double> changes = ProductEffects.lasting(ingredient, dosed.getAsDouble());
		changes.values().removeIf(change -> Math.abs(change) <= 1e-12);
		return Optional.of(changes);
	}

	/** Free chlorine it brings, mg/L as Cl2; empty when the strength is not known or it is no chlorine. */
	public Optional<Double> chlorine(double litres) {
		OptionalDouble dosed = this.kind.ingredient().chlorine() ? concentration(litres) : OptionalDouble.empty();
		return dosed.isPresent() ? Optional.of(dosed.getAsDouble()) : Optional.empty();
	}

	/** As {@link ProductEffects#concentration}; empty when the strength is not known. */
	public OptionalDouble concentration(double litres) {
		OptionalDouble active = ProductEffects.activePerUnit(this.kind, this.strength, this.basis, this.kind.density());
		return active.isPresent() ? OptionalDouble.of(this.amount * active.getAsDouble() * 1000 / litres) : active;
	}

}
