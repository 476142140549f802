package org.meniscus.water.plan;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;

/**
 * Another product that moves the same level.
 *
 * @param measured what it would take, measured; null when it is not allowed here
 * @param cost of the best plan with it instead, everything else that changes included; null when it is not allowed here
 * @param after levels that plan would leave; null when it is not allowed here
 * @param reason why it was not chosen
 */
public record Alternative(Product product, @Nullable MeasuredAmount measured, @Nullable TotalCost cost, @Nullable Levels after,
		Reason reason) {

	static Alternative rejected(Product product, Reason why) {
		return new Alternative(product, null, null, null, why);
	}

}
