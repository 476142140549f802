package org.meniscus.demo;

import static java.time.temporal.TemporalAdjusters.previousOrSame;

import java.time.DayOfWeek;
import java.time.LocalDate;

/** The days of the invented season, seen from a day. */
record DemoCalendar(LocalDate today) {

	static final int PAST_WEEKS = 30;

	/** Monday of the first week. */
	LocalDate first() {
		return today.with(previousOrSame(DayOfWeek.MONDAY)).minusWeeks(PAST_WEEKS);
	}

	/** The last day with visits; today's are still to be made. */
	LocalDate yesterday() {
		return today.minusDays(1);
	}

	/** Sunday of the week after next. */
	LocalDate plannedUntil() {
		return today.with(previousOrSame(DayOfWeek.MONDAY)).plusDays(20);
	}

	/** The company works on five days in a row that include today, so that there is a route to drive at once. @param number 1 to 5 */
	DayOfWeek workday(int number) {
		DayOfWeek start = switch (today.getDayOfWeek()) {
			case SATURDAY -> DayOfWeek.TUESDAY;
			case SUNDAY -> DayOfWeek.WEDNESDAY;
			default -> DayOfWeek.MONDAY;
		};
		return start.plus(number - 1);
	}

}
