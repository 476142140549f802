package org.meniscus.route.web;

import java.time.LocalDate;
import java.time.format.TextStyle;
import java.util.List;
import java.util.Locale;
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

/** The repeating plans of one pool, and of all. */
@Controller
@OfficeOnly
class ScheduleController {

	private final ScheduleService schedules;

	private final RouteService route;

	private final ClientService clients;

	private final RouteOptions options;

	private final UuidGenerator ids;

	ScheduleController(ScheduleService plans, RouteService route, ClientService clients, RouteOptions choices, UuidGenerator ids) {
		this.schedules = plans;
		this.route = route;
		this.clients = clients;
		this.options = choices;
		this.ids = ids;
	}

	/** A plan in words. @param next its coming days, none when it has ended */
	record ScheduleLine(ServiceScheduleSummary schedule, String days, String period, List<String> next, boolean ended) {
	}

	/** A pool with its plans in all plans' list. */
	record PoolSchedules(PoolSummary pool, List<ScheduleLine> schedules) {
	}

	@ModelAttribute("here")
	String here() {
		return "/week";
	}

	@GetMapping("/week/plans")
	String all(@AuthenticationPrincipal SignedInUser me, Locale locale, Model model) {
		LocalDate today = route.today(me.company());
		List<ScheduleLine> lines = schedules.all(me.company()).stream().map(plan -> line(plan, today, locale)).filter(line -> !line.ended())
			.toList();
		List<PoolSchedules> pools = clients.pools(me.company())
			.stream()
			.map(pool -> new PoolSchedules(pool, lines.stream().filter(line -> line.schedule().pool().equals(pool.id())).toList()))
			.toList();
		model.addAttribute("unplanned", pools.stream().filter(pool -> pool.schedules().isEmpty()).toList());
		model.addAttribute("planned", pools.stream().filter(pool -> !pool.schedules().isEmpty()).toList());
		model.addAttribute("left", lines.stream().filter(line -> !line.schedule().technicianActive()).count());
		return "route/plans";
	}

	@GetMapping("/pools/{pool}/plan")
	String ofPool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, Locale locale, Model model) {
		model.addAttribute("form", ScheduleForm.blank(ids.next(), route.today(me.company())));
		return page(me, pool, null, null, locale, model);
	}

	@GetMapping("/pools/{pool}/plan/{plan}")
	String edit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable UUID plan, Locale locale, Model model) {
		ServiceScheduleSummary card = card(me, pool, plan);
		model.addAttribute("form", ScheduleForm.of(card));
		return page(me, pool, card, card.version(), locale, model);
	}

	@PostMapping("/pools/{pool}/plan")
	String add(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @Valid @ModelAttribute("form") ScheduleForm form,
			BindingResult errors, Locale locale, Model model) {
		form.validate(errors);
		if (!errors.hasErrors()) {
			try {
				schedules.add(me.company(),
						new ScheduleService.AddSchedule(new ServiceScheduleId(form.id()), new PoolId(pool), form.technicianId(),
								form.recurrence(), form.place()));
				return "redirect:/pools/" + pool + "/plan?saved";
			}
			catch (TechnicianInactive ex) {
				errors.rejectValue("technician", "route.technician.gone");
			}
		}
		return page(me, pool, null, null, locale, model);
	}

	@PostMapping("/pools/{pool}/plan/{plan}")
	String change(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable UUID plan,
			@Valid @ModelAttribute("form") ScheduleForm form, BindingResult errors, Locale locale, Model model) {
		ServiceScheduleSummary card = card(me, pool, plan);
		form.validate(errors);
		if (form.version() == null) {
			errors.reject("form.stale");
		}
		if (!errors.hasErrors()) {
			try {
				schedules.change(me.company(), new ScheduleService.ChangeSchedule(card.id(), form.version(), form.technicianId(),
						form.recurrence(), form.place()));
				return "redirect:/pools/" + pool + "/plan?saved";
			}
			catch (StaleVersion ex) {
				errors.reject("form.stale");
				// what was typed stays, but saving again is a decision made on the state that is now shown beside it
				card = card(me, pool, plan);
				model.addAttribute("stale", line(card, route.today(me.company()), locale));
				model.addAttribute("version", card.version());
			}
			catch (TechnicianInactive ex) {
				errors.rejectValue("technician", "route.technician.gone");
			}
		}
		return page(me, pool, card, form.version(), locale, model);
	}

	@PostMapping("/pools/{pool}/plan/{plan}/remove")
	String remove(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable UUID plan, @RequestParam long version,
			Locale locale, Model model) {
		ServiceScheduleSummary card = card(me, pool, plan);
		try {
			if (schedules.remove(me.company(), card.id(), version)) {
				return "redirect:/pools/" + pool + "/plan?saved";
			}
			model.addAttribute("refused", options.text("plan.remove.history", locale));
		}
		catch (StaleVersion ex) {
			model.addAttribute("refused", options.text("plan.remove.stale", locale));
		}
		card = card(me, pool, plan);
		model.addAttribute("form", ScheduleForm.of(card));
		return page(me, pool, card, card.version(), locale, model);
	}

	private String page(SignedInUser me, UUID pool, @Nullable ServiceScheduleSummary edited, @Nullable Long version, Locale locale,
			Model model) {
		LocalDate today = route.today(me.company());
		PersonId technician = (edited != null) ? edited.technician() : null;
		model.addAttribute("pool", clients.pool(me.company(), new PoolId(pool)));
		model.addAttribute("plans",
				schedules.of(me.company(), new PoolId(pool)).stream().map(plan -> line(plan, today, locale)).toList());
		model.addAttribute("edited", edited);
		if (!model.containsAttribute("version")) {
			model.addAttribute("version", version);
		}
		model.addAttribute("frequencies", options.frequencies(locale));
		model.addAttribute("weekdays", options.weekdays(locale));
		model.addAttribute("technicians", options.technicians(me.company(), technician, technician == null, locale));
		return "route/plan";
	}

	/** The plan, if it belongs to that pool. */
	private ServiceScheduleSummary card(SignedInUser me, UUID pool, UUID plan) {
		ServiceScheduleSummary card = schedules.schedule(me.company(), new ServiceScheduleId(plan));
		if (!card.pool().value().equals(pool)) {
			throw new NotFound("service plan");
		}
		return card;
	}

	private ScheduleLine line(ServiceScheduleSummary plan, LocalDate today, Locale locale) {
		String weekdays = plan.recurrence()
			.weekdays()
			.stream()
			.map(day -> day.getDisplayName(TextStyle.FULL_STANDALONE, locale))
			.collect(Collectors.joining(" + "));
		LocalDate start = plan.recurrence().startsOn();
		LocalDate end = plan.recurrence().endsOn();
		String period = (end != null)
				? options.text("plan.period.until", locale, QuantityFormatter.date(start, locale), QuantityFormatter.date(end, locale))
				: options.text("plan.period", locale, QuantityFormatter.date(start, locale));
		List<String> next = plan.recurrence()
			.daysBetween(today, today.plusDays(120))
			.stream()
			.limit(4)
			.map(day -> QuantityFormatter.weekdayAndDate(day, locale))
			.toList();
		return new ScheduleLine(plan, weekdays, period, next, plan.endedBefore(today));
	}

}
