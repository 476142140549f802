package org.meniscus.route.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.format.TextStyle;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SortedSet;
import java.util.TreeSet;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.route.Frequency;
import org.meniscus.route.MissedReason;
import org.meniscus.route.RouteService;
import org.meniscus.ui.Option;
import org.meniscus.ui.QuantityFormatter;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** What the selects of the route pages offer. */
@Component
class RouteOptions {

	private final RouteService route;

	private final ClientService clients;

	private final MessageSource messages;

	RouteOptions(RouteService route, ClientService clients, MessageSource messages) {
		this.route = route;
		this.clients = clients;
		this.messages = messages;
	}

	/** Active people, and in any case the one who has it now, marked when he or she has left. */
	List<Option> technicians(CompanyId company, @Nullable PersonId now, boolean blank, Locale locale) {
		List<Option> options = new ArrayList<>();
		if (blank) {
			options.add(choose(locale));
		}
		route.technicians(company)
			.stream()
			.filter(person -> person.active() || person.id().equals(now))
			.map(person -> new Option(person.id().toString(),
					person.active() ? person.name() : text("route.technician.left", locale, person.name())))
			.forEach(options::add);
		return options;
	}

	List<Option> pools(CompanyId company, Locale locale) {
		List<Option> options = new ArrayList<>(List.of(choose(locale)));
		clients.pools(company).forEach(pool -> options.add(new Option(pool.id().toString(), pool.clientName() + " · " + pool.name())));
		return options;
	}

	List<Option> frequencies(Locale locale) {
		return Arrays.stream(Frequency.values()).map(each -> new Option(each.name(), text("schedule.frequency." + each, locale))).toList();
	}

	List<Option> weekdays(Locale locale) {
		List<Option> options = new ArrayList<>(List.of(choose(locale)));
		Arrays.stream(DayOfWeek.values())
			.forEach(day -> options.add(new Option(day.name(), day.getDisplayName(TextStyle.FULL_STANDALONE, locale))));
		return options;
	}

	List<Option> reasons(Locale locale) {
		List<Option> options = new ArrayList<>(List.of(choose(locale)));
		Arrays.stream(MissedReason.values())
			.forEach(reason -> options.add(new Option(reason.name(), text("stop.missed." + reason, locale))));
		return options;
	}

	/** The week of the stop and three weeks from today's Monday; further away there is dragging week by week. */
	List<Option> days(LocalDate planned, LocalDate today, Locale locale) {
		SortedSet<LocalDate> days = new TreeSet<>();
		monday(planned).datesUntil(monday(planned).plusWeeks(1)).forEach(days::add);
		monday(today).datesUntil(monday(today).plusWeeks(3)).forEach(days::add);
		return days.stream().map(day -> new Option(day.toString(), QuantityFormatter.weekdayAndDate(day, locale))).toList();
	}

	private static LocalDate monday(LocalDate day) {
		return day.with(java.time.temporal.TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
	}

	private Option choose(Locale locale) {
		return new Option("", text("route.choose", locale));
	}

	String text(String code, Locale locale, Object... arguments) {
		return messages.getMessage(code, arguments, locale);
	}

}
