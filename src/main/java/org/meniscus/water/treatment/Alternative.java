package org.meniscus.water.treatment;

import org.jspecify.annotations.Nullable;

/**
 * Another product that moves the same level.
 *
 * @param amount what it would take, measured; null when it is not allowed here
 * @param cost of the best plan with it instead, everything else that changes included; null when it is not allowed here
 * @param after levels that plan would leave; null when it is not allowed here
 * @param why why it was not chosen
 */
public record Alternative(Product product, @Nullable MeasuredAmount amount, @Nullable TrueCost cost, @Nullable Levels after, Reason why) {

	static Alternative rejected(Product product, Reason why) {
		return new Alternative(product, null, null, null, why);
	}

}
