package org.meniscus.route;

import java.time.LocalDate;

import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;

/**
 * A service schedule as pages show it.
 *
 * @param place where its stops stand in the technician's day, compared with the schedules of other pools; need not be without gaps
 */
public record ServiceScheduleSummary(ServiceScheduleId id, long version, PoolId pool, PersonId technician, String technicianName,
		boolean technicianActive, Recurrence recurrence, int place) {

	public boolean endedBefore(LocalDate day) {
		return recurrence.endsOn() != null && recurrence.endsOn().isBefore(day);
	}

}
