package org.meniscus.water.treatment;

import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.UnitSystem;

/**
 * All a plan depends on.
 *
 * @param products what the company has; only those on the truck are dosed, the others are named as alternatives
 * @param daysToNextVisit days until the next visit; zero = not known, then no allowance is made
 * @param swimWithinHours hours until people are expected in the water; null = nobody in particular
 */
public record PlanRequest(PoolFacts pool, Readings readings, Situation situation, List<Product> products, Policy policy,
		int daysToNextVisit, @Nullable Double swimWithinHours, UnitSystem units) {

	/** @throws IllegalArgumentException for days below zero */
	public PlanRequest {
		Objects.requireNonNull(pool);
		Objects.requireNonNull(readings);
		Objects.requireNonNull(situation);
		products = List.copyOf(products);
		Objects.requireNonNull(policy);
		Objects.requireNonNull(units);
		if (daysToNextVisit < 0) {
			throw new IllegalArgumentException("days to the next visit below zero: " + daysToNextVisit);
		}
	}

	public PlanRequest(PoolFacts pool, Readings readings, Situation situation, List<Product> products, Policy policy,
			int daysToNextVisit, UnitSystem units) {
		this(pool, readings, situation, products, policy, daysToNextVisit, null, units);
	}

}
