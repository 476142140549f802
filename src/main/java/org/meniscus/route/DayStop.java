package org.meniscus.route;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolSummary;
import org.meniscus.visit.ActivePlan;
import org.meniscus.visit.VisitRecord;

/**
 * A stop with what one needs to know on the way to it.
 *
 * @param accessNotes gate codes, keys, dogs; empty when there are none, null when they are not for whoever asks
 * @param lastVisit the newest visit to the pool
 * @param openWork how much the office has planned for an open stop, number of pieces
 * @param activePlan the plan that has a step due on the day of an open stop; null when none has
 */
public record DayStop(StopLine line, PoolSummary pool, @Nullable String accessNotes, @Nullable VisitRecord lastVisit,
		@Nullable ActivePlan activePlan, int openWork) {
}
