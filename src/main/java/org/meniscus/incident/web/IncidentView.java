package org.meniscus.incident.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanySettings;
import org.meniscus.incident.Incident;
import org.meniscus.incident.IncidentRecord;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.UnitSystem;

/**
 * An incident as its sheet shows it. Null = not written down: an empty line on paper.
 *
 * @param found what was tested when it was found
 * @param done what went in and what else the visit records, a line each
 * @param missing something is still to be written down
 */
record IncidentView(UUID visit, UUID pool, String client, String poolName, String what, String foundAt, String foundBy,
		List<Fact> found, List<String> done, @Nullable String closed, @Nullable String heldFrom, @Nullable String heldUntil,
		@Nullable String contactTime, @Nullable String reopened, @Nullable String person, @Nullable String notes, boolean missing) {

	/** @param value null = not tested */
	record Fact(String name, @Nullable String value) {
	}

	/** What a log asks for as found; combined chlorine and temperature help to judge it. */
	private static final List<Level> FOUND = List.of(Level.FC, Level.CC, Level.PH, Level.CYA, Level.TEMPERATURE);

	static IncidentView of(Incident incident, CompanySettings company, Wording.Texts texts, Locale locale) {
		VisitRecord visit = incident.visit();
		IncidentRecord record = incident.record();
		UnitSystem units = company.units();
		ZoneId zone = company.zone();
		List<Fact> found = FOUND.stream()
			.map(level -> new Fact(LevelNames.code(level, texts), reading(visit, level, units)))
			.toList();
		List<String> done = new ArrayList<>();
		visit.doses()
			.forEach(dose -> done.add(texts.text("incident.done.dose", dose.productName(),
					QuantityFormatter.amount(units, dose.unit(), dose.amount()))));
		Double replaced = visit.waterReplaced();
		if (replaced != null) {
			done.add(texts.text("incident.replaced", Wording.percent(replaced)));
		}
		if (!visit.tasks().isEmpty()) {
			done.add(String.join(", ", visit.tasks().stream().map(task -> texts.text("visit.task." + task)).toList()));
		}
		return new IncidentView(visit.id().value(), visit.pool().value(), incident.pool().clientName(), incident.pool().name(),
				texts.text(Wording.situationKey(visit.situation())), time(visit.performedAt(), zone, locale), visit.technicianName(), found,
				done, timeOrNull(record.closedAt(), zone, locale), with(record.heldFrom(), record.fcFrom(), null, zone, units, locale),
				with(record.heldUntil(), record.fcUntil(), record.phUntil(), zone, units, locale),
				record.contactTime().map(time -> Wording.hours(time.toMinutes() / 60.0, texts)).orElse(null),
				timeOrNull(record.reopenedAt(), zone, locale), record.person(), record.notes(), record.incomplete());
	}

	private static @Nullable String reading(VisitRecord visit, Level level, UnitSystem units) {
		Double value = visit.readings().value(level);
		ReadingQualifier qualifier = visit.readings().qualifier(level);
		return (value == null) ? null
				: ((qualifier == ReadingQualifier.EXACT) ? "" : qualifier.sign() + " ") + Wording.level(level, value, units);
	}

	/** "Nov 25, 2026, 2:10 PM · FC 20.0 ppm · pH 7.4"; what is not known is left out. */
	private static @Nullable String with(@Nullable Instant at, @Nullable Double fc, @Nullable Double ph, ZoneId zone, UnitSystem units,
			Locale locale) {
		List<String> parts = new ArrayList<>();
		if (at != null) {
			parts.add(time(at, zone, locale));
		}
		if (fc != null) {
			parts.add("FC " + Wording.level(Level.FC, fc, units));
		}
		if (ph != null) {
			parts.add("pH " + Wording.level(Level.PH, ph, units));
		}
		return parts.isEmpty() ? null : String.join(" · ", parts);
	}

	private static @Nullable String timeOrNull(@Nullable Instant at, ZoneId zone, Locale locale) {
		return (at != null) ? time(at, zone, locale) : null;
	}

	private static String time(Instant at, ZoneId zone, Locale locale) {
		return QuantityFormatter.date(LocalDate.ofInstant(at, zone), locale) + ", "
				+ QuantityFormatter.time(LocalTime.ofInstant(at, zone), locale);
	}

}
