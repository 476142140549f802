package org.meniscus.route;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolCard;
import org.meniscus.visit.StandingPlan;
import org.meniscus.visit.VisitRecord;

/**
 * A stop with what one needs to know on the way to it.
 *
 * @param accessNotes gate codes, keys, dogs; empty when there are none, null when they are not for whoever asks
 * @param last the newest visit to the pool
 * @param work how much the office has planned for an open stop, number of pieces
 * @param continues the plan that has a step due on the day of an open stop; null when none has
 */
public record DayStop(StopLine line, PoolCard pool, @Nullable String accessNotes, @Nullable VisitRecord last,
		@Nullable StandingPlan continues, int work) {
}
