package org.meniscus.route.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.PersonId;
import org.meniscus.route.Frequency;
import org.meniscus.route.Recurrence;
import org.meniscus.route.ServiceScheduleSummary;
import org.springframework.validation.Errors;

/**
 * A service schedule as sent by the form.
 *
 * @param id made with the form for a new schedule, so that sending twice adds one
 * @param version absent for a new schedule
 */
record ScheduleForm(@NotNull @Nullable UUID id, @Nullable Long version, @NotNull @Nullable Frequency frequency,
		@NotNull @Nullable DayOfWeek weekday, @Nullable DayOfWeek secondWeekday, @NotNull @Nullable UUID technician,
		@NotNull @Nullable LocalDate startsOn, @Nullable LocalDate endsOn, @Min(1) @Max(200) @Nullable Integer place) {

	private static final LocalDate EARLIEST = LocalDate.of(2000, 1, 1);

	private static final LocalDate LATEST = LocalDate.of(2099, 12, 31);

	static ScheduleForm blank(UUID id, LocalDate today) {
		return new ScheduleForm(id, null, Frequency.WEEKLY, null, null, null, today, null, null);
	}

	static ScheduleForm of(ServiceScheduleSummary schedule) {
		Recurrence recurrence = schedule.recurrence();
		return new ScheduleForm(schedule.id().value(), schedule.version(), recurrence.frequency(), recurrence.weekday(),
				recurrence.secondWeekday(),
				schedule.technician().value(), recurrence.startsOn(), recurrence.endsOn(), schedule.place());
	}

	/** Rules over several fields. */
	void validate(Errors errors) {
		if (frequency == Frequency.TWICE_WEEKLY && !errors.hasFieldErrors("secondWeekday")) {
			if (secondWeekday == null) {
				errors.rejectValue("secondWeekday", "schedule.secondWeekday.missing");
			}
			else if (secondWeekday == weekday) {
				errors.rejectValue("secondWeekday", "schedule.secondWeekday.same");
			}
		}
		if (startsOn != null && (startsOn.isBefore(EARLIEST) || startsOn.isAfter(LATEST))) {
			errors.rejectValue("startsOn", "schedule.date.range");
		}
		if (endsOn != null && endsOn.isAfter(LATEST)) {
			errors.rejectValue("endsOn", "schedule.date.range");
		}
		else if (endsOn != null && startsOn != null && endsOn.isBefore(startsOn)) {
			errors.rejectValue("endsOn", "schedule.endsOn.early");
		}
	}

	/** Only after validation has passed; a second weekday that the frequency has no use for is left out. */
	Recurrence recurrence() {
		return new Recurrence(Objects.requireNonNull(frequency), Objects.requireNonNull(weekday),
				(frequency == Frequency.TWICE_WEEKLY) ? secondWeekday : null, Objects.requireNonNull(startsOn), endsOn);
	}

	PersonId technicianId() {
		return new PersonId(Objects.requireNonNull(technician));
	}

}
