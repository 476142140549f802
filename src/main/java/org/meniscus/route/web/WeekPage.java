package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;

import org.meniscus.company.PersonSummary;
import org.meniscus.route.StopLine;
import org.meniscus.route.StopState;
import org.meniscus.route.Week;
import org.meniscus.ui.QuantityFormatter;

/**
 * A week as a board: a column a day, a row a technician.
 *
 * @param formerTechnicians people who have left but still have planned stops in this week
 * @param emptyWeekend whether Saturday and Sunday have no stops, so that the columns may be narrow
 */
record WeekPage(LocalDate monday, String period, LocalDate before, LocalDate after, LocalDate today, boolean current,
		List<PersonSummary> technicians, List<DayColumn> days, int count, int missingStops, List<FormerTechnician> formerTechnicians,
		boolean emptyWeekend) {

	record DayColumn(LocalDate date, String text, boolean today, List<TechnicianDay> cells, int count) {
	}

	/** One technician's day. */
	record TechnicianDay(PersonSummary technician, List<StopLine> stops, int done) {

		public int count() {
			return stops.size();
		}

	}

	record FormerTechnician(String name, long planned) {
	}

	static WeekPage of(Week week, Locale locale) {
		List<DayColumn> days = week.days().stream().map(date -> day(week, date, locale)).toList();
		List<FormerTechnician> left = week.technicians()
			.stream()
			.filter(person -> !person.active())
			.map(person -> new FormerTechnician(person.name(), week.stops()
				.stream()
				.filter(stop -> stop.technician().equals(person.id()) && stop.state() == StopState.PLANNED)
				.count()))
			.filter(person -> person.planned() > 0)
			.toList();
		boolean current = !week.today().isBefore(week.monday()) && !week.today().isAfter(week.sunday());
		return new WeekPage(week.monday(),
				QuantityFormatter.weekdayAndDate(week.monday(), locale) + " – " + QuantityFormatter.date(week.sunday(), locale),
				week.monday().minusWeeks(1), week.monday().plusWeeks(1), week.today(), current, week.technicians(), days,
				week.stops().size(),
				week.missingStops(), left, days.get(5).count() + days.get(6).count() == 0);
	}

	private static DayColumn day(Week week, LocalDate date, Locale locale) {
		List<TechnicianDay> cells = week.technicians().stream().map(technician -> {
			List<StopLine> stops = week.stops()
				.stream()
				.filter(stop -> stop.plannedOn().equals(date) && stop.technician().equals(technician.id()))
				.toList();
			return new TechnicianDay(technician, stops, (int) stops.stream().filter(stop -> stop.state() == StopState.DONE).count());
		}).toList();
		return new DayColumn(date, QuantityFormatter.weekdayAndDate(date, locale), date.equals(week.today()), cells,
				cells.stream().mapToInt(TechnicianDay::count).sum());
	}

}
