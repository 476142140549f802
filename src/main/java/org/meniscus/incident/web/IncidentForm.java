package org.meniscus.incident.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.Size;

import org.jspecify.annotations.Nullable;
import org.meniscus.incident.Incident;
import org.meniscus.incident.IncidentRecord;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.visit.VisitRecord;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.validation.Errors;

/** What the browser sends of an incident; times are those of the company's place. */
record IncidentForm(@Nullable Long version, @DateTimeFormat(pattern = MINUTES) @Nullable LocalDateTime closedAt,
		@DateTimeFormat(pattern = MINUTES) @Nullable LocalDateTime heldFrom,
		@DateTimeFormat(pattern = MINUTES) @Nullable LocalDateTime heldUntil,
		@DateTimeFormat(pattern = MINUTES) @Nullable LocalDateTime reopenedAt,
		@DecimalMin(value = "0", message = FC) @DecimalMax(value = "100", message = FC) @Digits(integer = 3, fraction = 2, message = FC) @Nullable BigDecimal fcFrom,
		@DecimalMin(value = "0", message = FC) @DecimalMax(value = "100", message = FC) @Digits(integer = 3, fraction = 2, message = FC) @Nullable BigDecimal fcUntil,
		@DecimalMin(value = "4", message = PH) @DecimalMax(value = "10", message = PH) @Digits(integer = 2, fraction = 2, message = PH) @Nullable BigDecimal phUntil,
		@Size(max = IncidentRecord.PERSON_MAX, message = "{client.tooLong}") @Nullable String person,
		@Size(max = IncidentRecord.NOTES_MAX, message = "{client.tooLong}") @Nullable String notes) {

	/** As an input of the browser's writes a day with a time. */
	private static final String MINUTES = "yyyy-MM-dd'T'HH:mm";

	private static final String FC = "{incident.fc.range}";

	private static final String PH = "{incident.ph.range}";

	/** Clocks differ. */
	private static final Duration AHEAD = Duration.ofMinutes(10);

	/** An incident is found, and is over, within these days of its visit: what lies further is a slip. Assumption, no source. */
	private static final int DAYS_AROUND = 31;

	static IncidentForm of(Incident incident, ZoneId zone) {
		IncidentRecord record = incident.record();
		return new IncidentForm(incident.version(), local(record.closedAt(), zone), local(record.heldFrom(), zone),
				local(record.heldUntil(), zone), local(record.reopenedAt(), zone), decimal(record.fcFrom()), decimal(record.fcUntil()),
				decimal(record.phUntil()), (incident.version() == 0) ? incident.visit().technicianName() : record.person(), record.notes());
	}

	IncidentForm withVersion(long version) {
		return new IncidentForm(version, closedAt, heldFrom, heldUntil, reopenedAt, fcFrom, fcUntil, phUntil, person, notes);
	}

	void validate(VisitRecord visit, ZoneId zone, Clock clock, Errors errors) {
		Instant now = clock.instant().plus(AHEAD);
		check("closedAt", closedAt, visit, zone, now, errors);
		check("heldFrom", heldFrom, visit, zone, now, errors);
		check("heldUntil", heldUntil, visit, zone, now, errors);
		check("reopenedAt", reopenedAt, visit, zone, now, errors);
		if (heldFrom != null && heldUntil != null && isBefore(heldUntil, heldFrom, zone)) {
			errors.rejectValue("heldUntil", "incident.heldUntil.before");
		}
		if (closedAt != null && reopenedAt != null && isBefore(reopenedAt, closedAt, zone)) {
			errors.rejectValue("reopenedAt", "incident.reopenedAt.before");
		}
	}

	/** By the clock of the world: in the hour that summer time skips a later time of day is an earlier moment. */
	private static boolean isBefore(LocalDateTime end, LocalDateTime start, ZoneId zone) {
		return end.atZone(zone).toInstant().isBefore(start.atZone(zone).toInstant());
	}

	private static void check(String field, @Nullable LocalDateTime time, VisitRecord visit, ZoneId zone, Instant now, Errors errors) {
		if (time == null) {
			return;
		}
		if (time.atZone(zone).toInstant().isAfter(now)) {
			errors.rejectValue(field, "incident.time.future");
		}
		else if (Math.abs(ChronoUnit.DAYS.between(visit.performedOn(), time.toLocalDate())) > DAYS_AROUND) {
			errors.rejectValue(field, "incident.time.far");
		}
	}

	/** Only of a form without errors. */
	IncidentRecord record(ZoneId zone) {
		return new IncidentRecord(instant(closedAt, zone), instant(heldFrom, zone), instant(heldUntil, zone), instant(reopenedAt, zone),
				number(fcFrom), number(fcUntil), number(phUntil), text(person), text(notes));
	}

	private static @Nullable LocalDateTime local(@Nullable Instant at, ZoneId zone) {
		return (at != null) ? LocalDateTime.ofInstant(at, zone) : null;
	}

	private static @Nullable Instant instant(@Nullable LocalDateTime at, ZoneId zone) {
		return (at != null) ? at.atZone(zone).toInstant() : null;
	}

	private static @Nullable BigDecimal decimal(@Nullable Double value) {
		return (value != null) ? new BigDecimal(BigDecimal.valueOf(value).stripTrailingZeros().toPlainString()) : null;
	}

	private static @Nullable Double number(@Nullable BigDecimal value) {
		return (value != null) ? value.doubleValue() : null;
	}

	private static @Nullable String text(@Nullable String text) {
		return (text != null && text.matches(FormBinding.NOT_BLANK_PATTERN)) ? text.strip() : null;
	}

}
