package org.meniscus.route;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.PersonSummary;

/**
 * A day's stops, of one technician or of all.
 *
 * @param technician whose stops these are; null for everybody's
 * @param choices whose day may be asked for: everybody who works here or has stops on the day; for a technician only himself
 * @param stops technician by technician, each in order
 */
public record DaySheet(LocalDate day, LocalDate today, @Nullable PersonSummary technician, List<PersonSummary> choices,
		List<DayStop> stops) {
}
