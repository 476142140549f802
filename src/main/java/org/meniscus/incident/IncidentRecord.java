package org.meniscus.incident;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

import org.jspecify.annotations.Nullable;

/**
 * What is written down of an incident beyond its visit. Everything may be missing. What a log holds: date and time, what it was, free
 * chlorine and pH when it was seen and before the pool opens again, the procedure, the contact time (CDC, fecal incident response
 * recommendations for aquatic staff, from memory; the same in Wichita code 7.72.121).
 *
 * @param closedAt from when nobody swam
 * @param heldFrom when all places tested at the chlorine that is held, see the plan of the visit
 * @param heldUntil when its time was over
 * @param reopenedAt from when people swam again
 * @param fcFrom free chlorine at {@code heldFrom}, ppm, 0 to 100
 * @param fcUntil free chlorine at {@code heldUntil}, ppm, 0 to 100
 * @param phUntil pH at {@code heldUntil}, 4 to 10
 * @param person who answers for it
 * @param notes what else was done
 */
public record IncidentRecord(@Nullable Instant closedAt, @Nullable Instant heldFrom, @Nullable Instant heldUntil,
		@Nullable Instant reopenedAt, @Nullable Double fcFrom, @Nullable Double fcUntil, @Nullable Double phUntil,
		@Nullable String person, @Nullable String notes) {

	public static final int PERSON_MAX = 100;

	public static final int NOTES_MAX = 1000;

	static final IncidentRecord NOTHING = new IncidentRecord(null, null, null, null, null, null, null, null, null);

	/** @throws IllegalArgumentException when a time ends before it begins */
	public IncidentRecord {
		if (isAfter(closedAt, reopenedAt) || isAfter(heldFrom, heldUntil)) {
			throw new IllegalArgumentException("it ends before it begins");
		}
	}

	private static boolean isAfter(@Nullable Instant begin, @Nullable Instant end) {
		return begin != null && end != null && begin.isAfter(end);
	}

	/** For how long chlorine was held. */
	public Optional<Duration> contactTime() {
		return (heldFrom != null && heldUntil != null) ? Optional.of(Duration.between(heldFrom, heldUntil)) : Optional.empty();
	}

	/** Whether anything is missing that a log is asked for; what else was done may be nothing. */
	public boolean incomplete() {
		return closedAt == null || heldFrom == null || heldUntil == null || reopenedAt == null || fcFrom == null || fcUntil == null
				|| phUntil == null || person == null;
	}

}
