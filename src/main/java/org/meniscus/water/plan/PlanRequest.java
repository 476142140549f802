package org.meniscus.water.plan;

import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;

/**
 * All a plan depends on.
 *
 * @param pool its cell stands at the setting that was found
 * @param products what the company has; only those on the truck are dosed, the others are named as alternatives
 * @param daysToNextVisit days until the next visit; zero = not known, then a week is counted and the plan says so
 * @param swimWithinHours hours until people are expected in the water; null = nobody in particular
 * @param lastKnown slow levels from earlier visits, in place of those that were not tested today
 * @param forecast what is known of the time ahead
 */
public record PlanRequest(PoolFacts pool, Readings readings, Situation situation, List<Product> products, TreatmentPolicy policy,
		int daysToNextVisit, @Nullable Double swimWithinHours, UnitSystem units, LastKnownLevels lastKnown, PoolForecast forecast) {

	/** @throws IllegalArgumentException for days below zero */
	public PlanRequest {
		Objects.requireNonNull(pool);
		Objects.requireNonNull(readings);
		pool = pool.withSetting(readings);
		Objects.requireNonNull(situation);
		products = List.copyOf(products);
		Objects.requireNonNull(policy);
		Objects.requireNonNull(units);
		Objects.requireNonNull(lastKnown);
		Objects.requireNonNull(forecast);
		if (daysToNextVisit < 0) {
			throw new IllegalArgumentException("days to the next visit below zero: " + daysToNextVisit);
		}
	}

	public PlanRequest(PoolFacts pool, Readings readings, Situation situation, List<Product> products, TreatmentPolicy policy,
			int daysToNextVisit, @Nullable Double swimWithinHours, UnitSystem units) {
		this(pool, readings, situation, products, policy, daysToNextVisit, swimWithinHours, units, LastKnownLevels.none(),
				PoolForecast.expected(pool, readings));
	}

	public PlanRequest(PoolFacts pool, Readings readings, Situation situation, List<Product> products, TreatmentPolicy policy,
			int daysToNextVisit, UnitSystem units) {
		this(pool, readings, situation, products, policy, daysToNextVisit, null, units);
	}

	/** An unknown next visit counted as so many days. */
	PlanRequest withNextVisitAfter(int days) {
		return new PlanRequest(this.pool, this.readings, this.situation, this.products, this.policy, days, this.swimWithinHours, this.units,
				this.lastKnown, this.forecast);
	}

	public PlanRequest withLastKnown(LastKnownLevels newLastKnown) {
		return new PlanRequest(this.pool, this.readings, this.situation, this.products, this.policy, this.daysToNextVisit,
				this.swimWithinHours, this.units, newLastKnown, this.forecast);
	}

	public PlanRequest withForecast(PoolForecast newForecast) {
		return new PlanRequest(this.pool, this.readings, this.situation, this.products, this.policy, this.daysToNextVisit,
				this.swimWithinHours, this.units, this.lastKnown, newForecast);
	}

	/** Today's readings with carried levels where nothing was tested. */
	Readings effectiveReadings() {
		return this.lastKnown.fillIn(this.readings);
	}

}
