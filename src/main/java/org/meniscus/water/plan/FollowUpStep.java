package org.meniscus.water.plan;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;

/**
 * Something for another day, because a cap, a gap or the water's own time splits the work.
 *
 * @param afterHours not earlier than so many hours from now
 * @param product what is expected to go in then; null for a test or a piece of work
 * @param expectedAmount amount expected now, to be worked out again from new readings; null for a test, when the label gives it or only that
 * day's test can say
 * @param reason what to do and why
 */
public record FollowUpStep(double afterHours, @Nullable Product product, @Nullable MeasuredAmount expectedAmount, Reason reason) {
}
