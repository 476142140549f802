package org.meniscus.visit;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.RecordedDose;

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

	private static final Duration MAX_CLOCK_AHEAD = Duration.ofMinutes(10);

	/** Nobody keeps a visit unsent for longer; a time further back is a wrong clock. */
	public static final Duration MAX_UNSENT = Duration.ofDays(14);

	public VisitRecord {
		doses = List.copyOf(doses);
		tasks = List.copyOf(tasks);
	}

	/** What the treatment engine learns from, oldest first. @param newestFirst as {@link VisitService#history} answers them */
	public static List<PoolHistory.Visit> toHistory(List<VisitRecord> newestFirst) {
		List<PoolHistory.Visit> visits = new ArrayList<>();
		for (VisitRecord visit : newestFirst) {
			List<RecordedDose> doses = visit.doses.stream().map(DoseRecord::recorded).toList();
			visits.add(new PoolHistory.Visit(visit.performedOn.toEpochDay(), visit.readings, visit.situation, doses, visit.waterReplaced));
		}
		Collections.reverse(visits);
		return visits;
	}

	/** The phone's clock cannot be right, or the visit lay long unsent: more than 10 minutes ahead of its arrival or 14 days behind. */
	public boolean implausibleTime() {
		return performedAt.isAfter(receivedAt.plus(MAX_CLOCK_AHEAD)) || performedAt.isBefore(receivedAt.minus(MAX_UNSENT));
	}

}
