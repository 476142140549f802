package org.meniscus.route;

import static java.time.DayOfWeek.FRIDAY;
import static java.time.DayOfWeek.MONDAY;
import static java.time.DayOfWeek.THURSDAY;
import static java.time.DayOfWeek.WEDNESDAY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** The expected days are read from the Gregorian calendar (as printed by {@code cal 2026}). */
class RecurrenceTests {

	@ParameterizedTest(name = "{0} on {1}/{2} from {3} until {4}, seen {5} to {6}: {7}")
	@CsvSource(nullValues = "-", value = {
			// every week
			"WEEKLY, WEDNESDAY, -, 2026-01-01, -, 2026-11-23, 2026-11-29, 2026-11-25",
			"WEEKLY, WEDNESDAY, -, 2026-11-25, -, 2026-11-23, 2026-11-29, 2026-11-25",
			"WEEKLY, WEDNESDAY, -, 2026-11-26, -, 2026-11-23, 2026-12-06, 2026-12-02",
			"WEEKLY, SUNDAY, -, 2026-01-01, -, 2026-11-23, 2026-11-29, 2026-11-29",
			"WEEKLY, MONDAY, -, 2026-01-01, -, 2026-11-23, 2026-11-29, 2026-11-23",
			// the week in which clocks change (US 2026-11-01, EU 2026-10-25) is a week like any other
			"WEEKLY, SUNDAY, -, 2026-10-01, -, 2026-10-19, 2026-11-08, 2026-10-25 2026-11-01 2026-11-08",
			// start and end count as inside
			"WEEKLY, WEDNESDAY, -, 2026-11-01, 2026-11-18, 2026-11-01, 2026-11-30, 2026-11-04 2026-11-11 2026-11-18",
			"WEEKLY, WEDNESDAY, -, 2026-11-01, 2026-11-17, 2026-11-01, 2026-11-30, 2026-11-04 2026-11-11",
			"WEEKLY, WEDNESDAY, -, 2026-11-01, 2026-11-17, 2026-11-23, 2026-11-29, ''",
			"WEEKLY, WEDNESDAY, -, 2027-01-01, -, 2026-11-23, 2026-11-29, ''",
			"WEEKLY, WEDNESDAY, -, 2026-11-25, 2026-11-25, 2026-01-01, 2027-01-01, 2026-11-25",
			// every second week keeps its rhythm over New Year: ISO year 2026 has 53 weeks, so 'even weeks' would slip
			"EVERY_SECOND_WEEK, WEDNESDAY, -, 2026-12-09, -, 2026-12-07, 2027-01-24, 2026-12-09 2026-12-23 2027-01-06 2027-01-20",
			"EVERY_SECOND_WEEK, WEDNESDAY, -, 2026-12-02, -, 2026-12-28, 2027-01-03, 2026-12-30",
			"EVERY_SECOND_WEEK, WEDNESDAY, -, 2026-12-02, -, 2027-01-04, 2027-01-10, ''",
			// counted from the first such weekday, not from the week in which the plan starts
			"EVERY_SECOND_WEEK, MONDAY, -, 2026-11-25, -, 2026-11-25, 2026-12-31, 2026-11-30 2026-12-14 2026-12-28",
			"EVERY_SECOND_WEEK, FRIDAY, -, 2026-11-25, -, 2026-11-25, 2026-12-31, 2026-11-27 2026-12-11 2026-12-25",
			// twice a week, in whichever order the days were given
			"TWICE_WEEKLY, MONDAY, THURSDAY, 2026-01-01, -, 2026-11-23, 2026-11-29, 2026-11-23 2026-11-26",
			"TWICE_WEEKLY, THURSDAY, MONDAY, 2026-01-01, -, 2026-11-23, 2026-11-29, 2026-11-23 2026-11-26",
			"TWICE_WEEKLY, MONDAY, THURSDAY, 2026-11-24, -, 2026-11-23, 2026-11-30, 2026-11-26 2026-11-30",
			"TWICE_WEEKLY, MONDAY, THURSDAY, 2026-11-01, 2026-11-25, 2026-11-23, 2026-11-30, 2026-11-23",
			// monthly: first, second, fourth weekday
			"MONTHLY, TUESDAY, -, 2026-01-06, -, 2026-01-01, 2026-04-30, 2026-01-06 2026-02-03 2026-03-03 2026-04-07",
			"MONTHLY, TUESDAY, -, 2026-01-13, -, 2026-01-01, 2026-04-30, 2026-01-13 2026-02-10 2026-03-10 2026-04-14",
			// a fourth weekday stays the fourth even where a fifth follows (Tuesdays: 24 Feb last, 24 March not)
			"MONTHLY, TUESDAY, -, 2026-02-24, -, 2026-02-01, 2026-04-30, 2026-02-24 2026-03-24 2026-04-28",
			// a fifth weekday means the last of each month, February included
			"MONTHLY, THURSDAY, -, 2026-01-29, -, 2026-01-01, 2026-05-31, 2026-01-29 2026-02-26 2026-03-26 2026-04-30 2026-05-28",
			"MONTHLY, TUESDAY, -, 2027-11-30, -, 2027-11-01, 2028-02-29, 2027-11-30 2027-12-28 2028-01-25 2028-02-29",
			// the start is not on the weekday: the first such weekday after it counts, here already the next month's first
			"MONTHLY, MONDAY, -, 2026-11-25, -, 2026-11-01, 2027-01-31, 2026-11-30 2026-12-28 2027-01-25",
			"MONTHLY, MONDAY, -, 2026-12-29, -, 2026-12-01, 2027-02-28, 2027-01-04 2027-02-01",
			"MONTHLY, WEDNESDAY, -, 2026-01-14, 2026-03-11, 2026-01-01, 2026-12-31, 2026-01-14 2026-02-11 2026-03-11",
			"MONTHLY, WEDNESDAY, -, 2026-01-14, 2026-03-10, 2026-01-01, 2026-12-31, 2026-01-14 2026-02-11",
			// a window that begins after the month's day and ends before the next one
			"MONTHLY, WEDNESDAY, -, 2026-01-14, -, 2026-11-12, 2026-12-08, ''" })
	void fallsOn(Frequency frequency, DayOfWeek weekday, @Nullable DayOfWeek second, LocalDate starts, @Nullable LocalDate ends,
			LocalDate from, LocalDate to, String days) {
		Recurrence schedule = new Recurrence(frequency, weekday, second, starts, ends);
		List<LocalDate> expected = Arrays.stream(days.split(" ")).filter(day -> !day.isEmpty()).map(LocalDate::parse).toList();
		assertThat(schedule.daysBetween(from, to)).isEqualTo(expected);
	}

	/** Weeks shown one after the other, in any cut, give the same days as the whole period at once. */
	@ParameterizedTest
	@EnumSource(Frequency.class)
	void daysOfSingleWeeksAddUpToDaysOfTheYear(Frequency frequency) {
		Recurrence schedule = new Recurrence(frequency, THURSDAY, (frequency == Frequency.TWICE_WEEKLY) ? MONDAY : null,
				LocalDate.of(2026, 1, 29), LocalDate.of(2027, 3, 14));
		LocalDate from = LocalDate.of(2025, 12, 29);
		List<LocalDate> whole = schedule.daysBetween(from, from.plusWeeks(70).minusDays(1));
		List<LocalDate> byWeek = java.util.stream.IntStream.range(0, 70)
			.mapToObj(from::plusWeeks)
			.flatMap(monday -> schedule.daysBetween(monday, monday.plusDays(6)).stream())
			.toList();
		assertThat(whole).isEqualTo(byWeek).doesNotHaveDuplicates().isSorted();
		assertThat(whole).allMatch(schedule::includes)
			.allMatch(day -> schedule.weekdays().contains(day.getDayOfWeek()))
			.allMatch(day -> !day.isBefore(schedule.startsOn()) && !day.isAfter(LocalDate.of(2027, 3, 14)));
		// 59 Thursdays from 2026-01-29 to 2027-03-11, both included: 406 days / 7 + 1
		assertThat(ChronoUnit.DAYS.between(LocalDate.of(2026, 1, 29), LocalDate.of(2027, 3, 11))).isEqualTo(406);
		assertThat(whole).hasSize(switch (frequency) {
			case WEEKLY -> 59;
			case EVERY_SECOND_WEEK -> 30;
			// and 58 Mondays from 2026-02-02 to 2027-03-08
			case TWICE_WEEKLY -> 59 + 58;
			// last Thursday of January 2026 to February 2027
			case MONTHLY -> 14;
		});
	}

	@Test
	void contradictoryRecurrenceIsRejected() {
		LocalDate day = LocalDate.of(2026, 11, 25);
		assertThatIllegalArgumentException().isThrownBy(() -> new Recurrence(Frequency.TWICE_WEEKLY, WEDNESDAY, null, day, null));
		assertThatIllegalArgumentException().isThrownBy(() -> new Recurrence(Frequency.WEEKLY, WEDNESDAY, FRIDAY, day, null));
		assertThatIllegalArgumentException().isThrownBy(() -> new Recurrence(Frequency.TWICE_WEEKLY, FRIDAY, FRIDAY, day, null));
		assertThatIllegalArgumentException().isThrownBy(() -> new Recurrence(Frequency.WEEKLY, FRIDAY, null, day, day.minusDays(1)));
	}

}
