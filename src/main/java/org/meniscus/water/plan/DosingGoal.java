package org.meniscus.water.plan;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.Product;

/**
 * One thing that dosing is to reach.
 *
 * @param cause the level that asks for it, which need not be the one it moves: acid may go in because of TA; null for a refresh
 * @param fcCeiling FC in ppm that rounding up may not pass; null: amounts are rounded down
 * @param retryHours hours until what a cap leaves over may go in
 */
record DosingGoal(Step.Purpose purpose, @Nullable Level cause, RequiredAmount requiredAmount, @Nullable Double fcCeiling,
		double retryHours, Reason reason) {

	/** How much of a product a goal takes. */
	interface RequiredAmount {

		/** Grams or millilitres before rounding in this water; zero or less when nothing is needed. */
		double of(PoolWater water, Product product);

	}

	/** Amounts are rounded down. */
	DosingGoal(Step.Purpose purpose, @Nullable Level cause, RequiredAmount requiredAmount, double retryHours, Reason reason) {
		this(purpose, cause, requiredAmount, null, retryHours, reason);
	}

}
