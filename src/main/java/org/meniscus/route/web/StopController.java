package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopClosed;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;
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
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** One stop of the week, with everything that can be done to it by plain forms. */
@Controller
@OfficeOnly
@RequestMapping("/week/stops")
class StopController {

	/** How far from today a stop may be put, in days: beyond that a date is a slip of the finger. */
	private static final int MAX_DAYS_FROM_TODAY = 366;

	private final RouteService route;

	private final RouteOptions options;

	private final UuidGenerator ids;

	StopController(RouteService route, RouteOptions options, UuidGenerator ids) {
		this.route = route;
		this.options = options;
		this.ids = ids;
	}

	@GetMapping("/{id}")
	String stop(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Locale locale, Model model) {
		return page(me, route.stop(me.company(), new StopId(id)), locale, model);
	}

	@PostMapping("/{id}/move")
	String move(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("move") MoveForm form,
			BindingResult errors, Locale locale, Model model) {
		checkDay(route.today(me.company()), form.day(), errors);
		return attempt(me, id, errors, form.version(), locale, model, null, () -> route.move(me.company(), form.command(id)));
	}

	@PostMapping("/{id}/miss")
	String markMissed(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("miss") MissedStopForm form,
			BindingResult errors, Locale locale, Model model) {
		return attempt(me, id, errors, form.version(), locale, model, null, () -> route.markMissed(me.company(), form.command(id)));
	}

	@PostMapping("/{id}/undo")
	String undo(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam long version, Locale locale, Model model) {
		return attempt(me, id, null, version, locale, model, null, () -> route.undoMissed(me.company(), new StopId(id), version));
	}

	@PostMapping("/{id}/remove")
	String remove(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam long version, Locale locale, Model model) {
		String week = "redirect:/week?from=" + route.stop(me.company(), new StopId(id)).plannedOn() + "&saved";
		return attempt(me, id, null, version, locale, model, week, () -> route.removeExtra(me.company(), new StopId(id), version));
	}

	@GetMapping("/new")
	String blank(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable UUID pool,
			@RequestParam(required = false) @Nullable UUID technician, @RequestParam(required = false) @Nullable String on, Locale locale,
			Model model) {
		LocalDate day = WeekController.parseDay(on, route.today(me.company()));
		model.addAttribute("extra", new ExtraStopForm(ids.next(), pool, technician, day));
		return extraPage(me, day, locale, model);
	}

	@PostMapping("/new")
	String add(@AuthenticationPrincipal SignedInUser me, @Valid @ModelAttribute("extra") ExtraStopForm form, BindingResult errors,
			Locale locale,
			Model model) {
		checkDay(route.today(me.company()), form.day(), errors);
		if (!errors.hasErrors()) {
			try {
				route.addExtra(me.company(), new RouteService.AddExtraStop(new StopId(Objects.requireNonNull(form.id())),
						new PoolId(Objects.requireNonNull(form.pool())), new PersonId(Objects.requireNonNull(form.technician())),
						Objects.requireNonNull(form.day())));
				return "redirect:/week?from=" + form.day() + "&saved#stop-" + form.id();
			}
			catch (TechnicianInactive ex) {
				errors.rejectValue("technician", "route.technician.gone");
			}
		}
		return extraPage(me, (form.day() != null) ? form.day() : route.today(me.company()), locale, model);
	}

	/** Done: back to the board, or to another page. Refused: the stop as it is now, with what was typed and why. */
	private String attempt(SignedInUser me, UUID id, @Nullable BindingResult errors, @Nullable Long version, Locale locale, Model model,
			@Nullable String to, Runnable work) {
		StopId stop = new StopId(id);
		if (errors == null || !errors.hasErrors()) {
			try {
				work.run();
				return (to != null) ? to : "redirect:/week?from=" + route.stop(me.company(), stop).plannedOn() + "&saved#stop-" + id;
			}
			catch (StaleVersion ex) {
				model.addAttribute("refused", options.text("stop.stale", locale));
			}
			catch (StopClosed ex) {
				model.addAttribute("refused", options.text("stop.closed." + ex.state(), locale));
			}
			catch (TechnicianInactive ex) {
				if (errors == null) {
					throw ex;
				}
				errors.rejectValue("technician", "route.technician.gone");
			}
		}
		// after a field was refused the next attempt still is one on the state that was seen first; after a conflict, on the one shown now
		if (!model.containsAttribute("refused") && version != null) {
			model.addAttribute("version", version);
		}
		return page(me, route.stop(me.company(), stop), locale, model);
	}

	private String page(SignedInUser me, StopLine stop, Locale locale, Model model) {
		LocalDate today = route.today(me.company());
		model.addAttribute("stop", stop);
		model.addAttribute("closed", !route.closedPools(me.company(), List.of(stop)).isEmpty());
		model.addAttribute("planned", QuantityFormatter.date(stop.plannedOn(), locale));
		model.addAttribute("plannedDay", QuantityFormatter.weekdayAndDate(stop.plannedOn(), locale));
		model.addAttribute("due", (stop.dueOn() != null) ? QuantityFormatter.weekdayAndDate(stop.dueOn(), locale) : null);
		model.addAttribute("technician", route.technician(me.company(), stop.technician()).map(PersonSummary::name).orElse(""));
		model.addAttribute("technicians", options.technicians(me.company(), stop.technician(), false, locale));
		model.addAttribute("days", options.days(stop.plannedOn(), today, locale));
		model.addAttribute("reasons", options.reasons(locale));
		if (!model.containsAttribute("version")) {
			model.addAttribute("version", stop.version());
		}
		if (!model.containsAttribute("move")) {
			model.addAttribute("move", MoveForm.of(stop));
		}
		if (!model.containsAttribute("miss")) {
			model.addAttribute("miss", MissedStopForm.of(stop));
		}
		return "route/stop";
	}

	private String extraPage(SignedInUser me, LocalDate day, Locale locale, Model model) {
		model.addAttribute("pools", options.pools(me.company(), locale));
		model.addAttribute("technicians", options.technicians(me.company(), null, true, locale));
		model.addAttribute("week", day);
		return "route/extra";
	}

	static void checkDay(LocalDate today, @Nullable LocalDate day, BindingResult errors) {
		if (day != null && (day.isBefore(today.minusDays(MAX_DAYS_FROM_TODAY)) || day.isAfter(today.plusDays(MAX_DAYS_FROM_TODAY)))) {
			errors.rejectValue("day", "stop.day.far");
		}
	}

}
