package org.meniscus.route;

import java.time.LocalDate;
import java.util.List;

import org.meniscus.company.PersonSummary;

/**
 * A company's stops from Monday to Sunday.
 *
 * @param technicians everybody who has stops in it, and every active technician, by name
 * @param stops day by day, each technician's in order
 * @param missingStops how many visits the service schedules ask for, from today on, that have no stop yet
 */
public record Week(LocalDate monday, LocalDate today, List<PersonSummary> technicians, List<StopLine> stops, int missingStops) {

	public List<LocalDate> days() {
		return monday.datesUntil(monday.plusDays(7)).toList();
	}

	public LocalDate sunday() {
		return monday.plusDays(6);
	}

}
