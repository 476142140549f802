package org.meniscus.route;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;

/**
 * A stop as lists show it.
 *
 * @param place 1 for the first of the technician's day
 * @param dueOn the day its schedule asked for; absent when it was added by hand
 * @param visit the visit that made it done, if that named the stop
 */
public record StopLine(StopId id, long version, PoolId pool, String poolName, String clientName, String street, String town,
		String postcode, PersonId technician, LocalDate plannedOn, int place, @Nullable LocalDate dueOn, StopState state,
		@Nullable MissedReason missedReason, @Nullable String missedNote, @Nullable UUID visit) {

	public boolean extra() {
		return dueOn == null;
	}

	/** Whether it stands on another day than its schedule asked for. */
	public boolean moved() {
		return dueOn != null && !dueOn.equals(plannedOn);
	}

}
