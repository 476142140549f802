package org.meniscus.visit;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.water.treatment.Readings;
import org.meniscus.water.treatment.Situation;

/**
 * One visit as it is stored.
 *
 * @param performedOn the day at the pool's place
 * @param waterReplaced share of the water drained and refilled, 0 to 1, null when none was
 * @param tasks codes under {@code visit.task.*}
 * @param advice the plan as it was shown, JSON, null when none was worked out
 * @param swimReadyAt earliest time by the waits of what was added, null when nothing was
 * @param photos how many photos there are, numbered from 0
 */
public record VisitRecord(VisitId id, long version, PoolId pool, PersonId technician, String technicianName,
		@Nullable UUID stop, Instant performedAt, LocalDate performedOn, Instant receivedAt, Situation situation,
		Readings readings, @Nullable Double waterReplaced, List<DoseRecord> doses, List<String> tasks,
		@Nullable String noteToClient, @Nullable String noteToOffice, @Nullable String advice, @Nullable Instant swimReadyAt,
		int photos, boolean corrected) {

	public VisitRecord {
		doses = List.copyOf(doses);
		tasks = List.copyOf(tasks);
	}

}
