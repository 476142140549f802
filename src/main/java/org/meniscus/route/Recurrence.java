package org.meniscus.route;

import static java.time.temporal.TemporalAdjusters.dayOfWeekInMonth;
import static java.time.temporal.TemporalAdjusters.lastInMonth;
import static java.time.temporal.TemporalAdjusters.nextOrSame;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.LongStream;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;

/**
 * The days on which a service schedule falls. Dates are days at the pool's place, so neither time zone nor daylight saving
 * matters. Both {@code startsOn} and {@code endsOn} count as inside.
 *
 * @param secondWeekday the other day of {@link Frequency#TWICE_WEEKLY}, absent otherwise
 * @param startsOn from when the schedule holds; its first visit is the first {@code weekday} on or after it
 * @param endsOn last day on which it holds, or null while it has no end
 */
public record Recurrence(Frequency frequency, DayOfWeek weekday, @Nullable DayOfWeek secondWeekday, LocalDate startsOn,
		@Nullable LocalDate endsOn) {

	/** @throws IllegalArgumentException when the second weekday is missing, superfluous or the first one again, or the end lies before the start */
	public Recurrence {
		if ((frequency == Frequency.TWICE_WEEKLY) != (secondWeekday != null)) {
			throw new IllegalArgumentException("a second weekday belongs to twice a week, and only there");
		}
		if (weekday == secondWeekday) {
			throw new IllegalArgumentException("twice a week needs two different weekdays");
		}
		if (endsOn != null && endsOn.isBefore(startsOn)) {
			throw new IllegalArgumentException("ends before it starts");
		}
	}

	/** The days of visits from {@code from} to {@code to}, both included, earliest first. */
	public List<LocalDate> daysBetween(LocalDate from, LocalDate to) {
		LocalDate first = later(from, startsOn);
		LocalDate last = (endsOn != null && endsOn.isBefore(to)) ? endsOn : to;
		if (last.isBefore(first)) {
			return List.of();
		}
		if (frequency == Frequency.MONTHLY) {
			return Stream.iterate(YearMonth.from(first), Predicate.not(YearMonth.from(last)::isBefore), month -> month.plusMonths(1))
				.map(this::dayInMonth)
				.filter(day -> !day.isBefore(first) && !day.isAfter(last))
				.toList();
		}
		return LongStream.rangeClosed(0, ChronoUnit.DAYS.between(first, last)).mapToObj(first::plusDays).filter(this::occursOn).toList();
	}

	/** Whether there is a visit on that day. */
	public boolean includes(LocalDate day) {
		return !daysBetween(day, day).isEmpty();
	}

	/** The weekdays that have visits. */
	public List<DayOfWeek> weekdays() {
		return (secondWeekday != null) ? List.of(weekday, secondWeekday) : List.of(weekday);
	}

	private boolean occursOn(LocalDate day) {
		return switch (frequency) {
			case WEEKLY -> day.getDayOfWeek() == weekday;
			case TWICE_WEEKLY -> day.getDayOfWeek() == weekday || day.getDayOfWeek() == secondWeekday;
			case EVERY_SECOND_WEEK -> ChronoUnit.DAYS.between(firstVisit(), day) % 14 == 0;
			case MONTHLY -> dayInMonth(YearMonth.from(day)).equals(day);
		};
	}

	private LocalDate dayInMonth(YearMonth month) {
		int nth = (firstVisit().getDayOfMonth() + 6) / 7;
		return month.atDay(1).with((nth == 5) ? lastInMonth(weekday) : dayOfWeekInMonth(nth, weekday));
	}

	private LocalDate firstVisit() {
		return startsOn.with(nextOrSame(weekday));
	}

	private static LocalDate later(LocalDate one, LocalDate other) {
		return one.isBefore(other) ? other : one;
	}

}
