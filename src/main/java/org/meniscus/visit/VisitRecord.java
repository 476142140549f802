package org.meniscus.visit;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Volume;

/**
 * One visit as it is stored.
 *
 * @param performedOn the day at the pool's place
 * @param waterReplaced share of the water drained and refilled, 0 to 1, null when none was
 * @param tasks codes under {@code visit.task.*}
 * @param advice the plan as it was shown, JSON, null when none was worked out
 * @param swim when people may swim, as worked out when it was submitted or corrected
 * @param photos how many photos there are, numbered from 0
 */
public record VisitRecord(VisitId id, long version, PoolId pool, PersonId technician, String technicianName,
		@Nullable UUID stop, Instant performedAt, LocalDate performedOn, Instant receivedAt, Situation situation,
		Readings readings, @Nullable Double waterReplaced, List<DoseRecord> doses, List<String> tasks,
		@Nullable String noteToClient, @Nullable String noteToOffice, @Nullable String advice, SwimReadiness swim,
		int photos, boolean corrected) {

	private static final Duration MAX_CLOCK_AHEAD = Duration.ofMinutes(10);

	/** Nobody keeps a visit unsent for longer; a time further back is a wrong clock. */
	public static final Duration MAX_UNSENT = Duration.ofDays(14);

	public VisitRecord {
		doses = List.copyOf(doses);
		tasks = List.copyOf(tasks);
	}

	/** No test of an earlier visit stands for longer, see {@link LastKnownLevels}. */
	static final int HISTORY_DAYS = 120;

	/** Slow levels on a day. @param earlier newest first */
	static LastKnownLevels lastKnownLevels(List<VisitRecord> earlier, PoolFacts pool, LocalDate day) {
		return LastKnownLevels.of(earlier.stream()
			.map(visit -> new LastKnownLevels.EarlierVisit((int) Math.max(0, ChronoUnit.DAYS.between(visit.performedOn, day)),
					visit.readings,
					visit.lastingChanges(pool.volume()), visit.waterReplaced))
			.toList(), pool);
	}

	/** Null when the strength of a dose or the volume is not known. */
	private @Nullable Map<Level, Double> lastingChanges(@Nullable Volume volume) {
		Map<Level, Double> moved = new EnumMap<>(Level.class);
		for (DoseRecord dose : doses) {
			Map<Level, Double> lasting = (volume == null) ? null : dose.recorded().lasting(volume.litres()).orElse(null);
			if (lasting == null) {
				return null;
			}
			lasting.forEach((level, change) -> moved.merge(level, change, Double::sum));
		}
		return moved;
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

	/** From when people may swim by the clock; empty when nothing asks for waiting, and when only a new test or look can tell. */
	public Optional<Instant> swimReadyAt() {
		return (swim.state() == SwimReadiness.State.AFTER_WAIT)
				? Optional.of(performedAt.plus(Duration.ofMinutes(Math.round(swim.waitHours() * 60)))) : Optional.empty();
	}

	/** Nobody swims until a new test or look. */
	public boolean closed() {
		return swim.closed();
	}

	/** The phone's clock cannot be right, or the visit lay long unsent: more than 10 minutes ahead of its arrival or 14 days behind. */
	public boolean implausibleTime() {
		return performedAt.isAfter(receivedAt.plus(MAX_CLOCK_AHEAD)) || performedAt.isBefore(receivedAt.minus(MAX_UNSENT));
	}

}
