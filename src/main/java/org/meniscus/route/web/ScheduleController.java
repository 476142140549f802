package org.meniscus.route.web;

import java.time.LocalDate;
import java.time.format.TextStyle;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.route.RouteService;
import org.meniscus.route.ScheduleService;
import org.meniscus.route.ServiceScheduleId;
import org.meniscus.route.ServiceScheduleSummary;
import org.meniscus.route.TechnicianInactive;
import org.meniscus.ui.QuantityFormatter;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The service schedules of one pool, and of all pools. */
@Controller
@OfficeOnly
class ScheduleController {

	private final ScheduleService schedules;

	private final RouteService route;

	private final ClientService clients;

	private final RouteOptions options;

	private final UuidGenerator ids;

	ScheduleController(ScheduleService schedules, RouteService route, ClientService clients, RouteOptions options, UuidGenerator ids) {
		this.schedules = schedules;
		this.route = route;
		this.clients = clients;
		this.options = options;
		this.ids = ids;
	}

	/** A schedule as text. @param next its coming days, none when it has ended */
	record ScheduleLine(ServiceScheduleSummary schedule, String days, String period, List<String> next, boolean ended) {
	}

	/** A pool with its schedules in the list of all. */
	record PoolSchedules(PoolSummary pool, List<ScheduleLine> schedules) {
	}

	@ModelAttribute("activeSection")
	String activeSection() {
		return "/week";
	}

	@GetMapping("/week/schedules")
	String all(@AuthenticationPrincipal SignedInUser me, Locale locale, Model model) {
		LocalDate today = route.today(me.company());
		List<ScheduleLine> lines = schedules.all(me.company()).stream().map(schedule -> line(schedule, today, locale))
			.filter(line -> !line.ended())
			.toList();
		List<PoolSchedules> pools = clients.pools(me.company())
			.stream()
			.map(pool -> new PoolSchedules(pool, lines.stream().filter(line -> line.schedule().pool().equals(pool.id())).toList()))
			.toList();
		model.addAttribute("unscheduled", pools.stream().filter(pool -> pool.schedules().isEmpty()).toList());
		model.addAttribute("scheduled", pools.stream().filter(pool -> !pool.schedules().isEmpty()).toList());
		model.addAttribute("left", lines.stream().filter(line -> !line.schedule().technicianActive()).count());
		return "route/schedules";
	}

	@GetMapping("/pools/{pool}/schedules")
	String ofPool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, Locale locale, Model model) {
		model.addAttribute("form", ScheduleForm.blank(ids.next(), route.today(me.company())));
		return page(me, pool, null, null, locale, model);
	}

	@GetMapping("/pools/{pool}/schedules/{schedule}")
	String edit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable UUID schedule, Locale locale,
			Model model) {
		ServiceScheduleSummary stored = find(me, pool, schedule);
		model.addAttribute("form", ScheduleForm.of(stored));
		return page(me, pool, stored, stored.version(), locale, model);
	}

	@PostMapping("/pools/{pool}/schedules")
	String add(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @Valid @ModelAttribute("form") ScheduleForm form,
			BindingResult errors, Locale locale, Model model) {
		form.validate(errors);
		if (!errors.hasErrors()) {
			try {
				schedules.add(me.company(),
						new ScheduleService.AddSchedule(new ServiceScheduleId(Objects.requireNonNull(form.id())), new PoolId(pool),
								form.technicianId(),
								form.recurrence(), form.place()));
				return "redirect:/pools/" + pool + "/schedules?saved";
			}
			catch (TechnicianInactive ex) {
				errors.rejectValue("technician", "route.technician.gone");
			}
		}
		return page(me, pool, null, null, locale, model);
	}

	@PostMapping("/pools/{pool}/schedules/{schedule}")
	String change(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable UUID schedule,
			@Valid @ModelAttribute("form") ScheduleForm form, BindingResult errors, Locale locale, Model model) {
		ServiceScheduleSummary stored = find(me, pool, schedule);
		form.validate(errors);
		Long version = form.version();
		if (version == null) {
			errors.reject("form.stale");
		}
		if (version != null && !errors.hasErrors()) {
			try {
				schedules.change(me.company(), new ScheduleService.ChangeSchedule(stored.id(), version, form.technicianId(),
						form.recurrence(), form.place()));
				return "redirect:/pools/" + pool + "/schedules?saved";
			}
			catch (StaleVersion ex) {
				errors.reject("form.stale");
				// what was typed stays, but saving again is a decision made on the state that is now shown beside it
				stored = find(me, pool, schedule);
				model.addAttribute("stale", line(stored, route.today(me.company()), locale));
				model.addAttribute("version", stored.version());
			}
			catch (TechnicianInactive ex) {
				errors.rejectValue("technician", "route.technician.gone");
			}
		}
		return page(me, pool, stored, form.version(), locale, model);
	}

	@PostMapping("/pools/{pool}/schedules/{schedule}/remove")
	String remove(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable UUID schedule,
			@RequestParam long version,
			Locale locale, Model model) {
		ServiceScheduleSummary stored = find(me, pool, schedule);
		try {
			if (schedules.remove(me.company(), stored.id(), version)) {
				return "redirect:/pools/" + pool + "/schedules?saved";
			}
			model.addAttribute("refused", options.text("schedule.remove.history", locale));
		}
		catch (StaleVersion ex) {
			model.addAttribute("refused", options.text("schedule.remove.stale", locale));
		}
		stored = find(me, pool, schedule);
		model.addAttribute("form", ScheduleForm.of(stored));
		return page(me, pool, stored, stored.version(), locale, model);
	}

	private String page(SignedInUser me, UUID pool, @Nullable ServiceScheduleSummary edited, @Nullable Long version, Locale locale,
			Model model) {
		LocalDate today = route.today(me.company());
		PersonId technician = (edited != null) ? edited.technician() : null;
		model.addAttribute("pool", clients.pool(me.company(), new PoolId(pool)));
		model.addAttribute("schedules",
				schedules.of(me.company(), new PoolId(pool)).stream().map(schedule -> line(schedule, today, locale)).toList());
		model.addAttribute("edited", edited);
		if (!model.containsAttribute("version")) {
			model.addAttribute("version", version);
		}
		model.addAttribute("frequencies", options.frequencies(locale));
		model.addAttribute("weekdays", options.weekdays(locale));
		model.addAttribute("technicians", options.technicians(me.company(), technician, technician == null, locale));
		return "route/schedule";
	}

	/** The schedule, if it belongs to that pool. */
	private ServiceScheduleSummary find(SignedInUser me, UUID pool, UUID schedule) {
		ServiceScheduleSummary stored = schedules.schedule(me.company(), new ServiceScheduleId(schedule));
		if (!stored.pool().value().equals(pool)) {
			throw new NotFound("service schedule");
		}
		return stored;
	}

	private ScheduleLine line(ServiceScheduleSummary schedule, LocalDate today, Locale locale) {
		String weekdays = schedule.recurrence()
			.weekdays()
			.stream()
			.map(day -> day.getDisplayName(TextStyle.FULL_STANDALONE, locale))
			.collect(Collectors.joining(" + "));
		LocalDate start = schedule.recurrence().startsOn();
		LocalDate end = schedule.recurrence().endsOn();
		String period = (end != null)
				? options.text("schedule.period.until", locale, QuantityFormatter.date(start, locale), QuantityFormatter.date(end, locale))
				: options.text("schedule.period", locale, QuantityFormatter.date(start, locale));
		List<String> next = schedule.recurrence()
			.daysBetween(today, today.plusDays(120))
			.stream()
			.limit(4)
			.map(day -> QuantityFormatter.weekdayAndDate(day, locale))
			.toList();
		return new ScheduleLine(schedule, weekdays, period, next, schedule.endedBefore(today));
	}

}
