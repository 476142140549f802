package org.meniscus.water.treatment;

import org.jspecify.annotations.Nullable;

/**
 * Another product that moves the same level.
 *
 * @param amount what it would take, measured; null when it is not allowed here
 * @param costCents cost of that amount; null when there is no amount or no price
 * @param after levels it would leave; null when it is not allowed here
 * @param why why it was not chosen
 */
public record Alternative(Product product, @Nullable MeasuredAmount amount, @Nullable Long costCents, @Nullable Levels after,
		Reason why) {
}
