package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.route.DayReassignmentService;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopLine;
import org.meniscus.route.StopState;
import org.meniscus.route.TechnicianInactive;
import org.meniscus.ui.QuantityFormatter;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One technician's day as a whole. */
@Controller
@OfficeOnly
@RequestMapping("/week/day")
class DayController {

	private final RouteService route;

	private final DayReassignmentService reassignment;

	private final RouteOptions options;

	DayController(RouteService route, DayReassignmentService reassignment, RouteOptions options) {
		this.route = route;
		this.reassignment = reassignment;
		this.options = options;
	}

	@GetMapping
	String day(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID technician, @RequestParam(required = false) @Nullable String on,
			Locale locale, Model model) {
		LocalDate day = WeekController.parseDay(on, route.today(me.company()));
		model.addAttribute("form", new DayReassignmentForm(technician, day));
		return page(me, technician, day, locale, model);
	}

	@PostMapping("/order")
	String applyOrder(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID technician,
			@RequestParam(required = false) @Nullable String on,
			Locale locale, RedirectAttributes redirect) {
		LocalDate day = WeekController.parseDay(on, route.today(me.company()));
		int schedules = reassignment.applyOrderToSchedules(me.company(), new PersonId(technician), day);
		redirect.addFlashAttribute("notice", new WeekController.ActionResult(false, options.text("day.order.kept", locale, schedules)));
		return "redirect:/week?from=" + day;
	}

	@PostMapping("/hand-over")
	String reassign(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID technician,
			@RequestParam(required = false) @Nullable String on,
			@Valid @ModelAttribute("form") DayReassignmentForm form, BindingResult errors, Locale locale, Model model,
			RedirectAttributes redirect) {
		LocalDate today = route.today(me.company());
		LocalDate day = WeekController.parseDay(on, today);
		StopController.checkDay(today, form.day(), errors);
		if (!errors.hasErrors()) {
			try {
				int moved = reassignment.reassign(me.company(), new PersonId(technician), day,
						new PersonId(Objects.requireNonNull(form.to())), Objects.requireNonNull(form.day()));
				redirect.addFlashAttribute("notice", new WeekController.ActionResult(false, options.text("day.handedOver", locale, moved)));
				return "redirect:/week?from=" + form.day();
			}
			catch (TechnicianInactive ex) {
				errors.rejectValue("to", "route.technician.gone");
			}
		}
		return page(me, technician, day, locale, model);
	}

	private String page(SignedInUser me, UUID technician, LocalDate day, Locale locale, Model model) {
		PersonSummary person = route.technician(me.company(), new PersonId(technician))
			.orElseThrow(() -> new NotFound("technician"));
		List<StopLine> stops = route.week(me.company(), day)
			.stops()
			.stream()
			.filter(stop -> stop.technician().equals(person.id()) && stop.plannedOn().equals(day))
			.toList();
		model.addAttribute("technician", person);
		model.addAttribute("day", day);
		model.addAttribute("dayText", QuantityFormatter.weekdayAndDate(day, locale));
		model.addAttribute("stops", stops);
		model.addAttribute("closed", route.closedPools(me.company(), stops));
		model.addAttribute("planned", stops.stream().filter(stop -> stop.state() == StopState.PLANNED).count());
		model.addAttribute("technicians", options.technicians(me.company(), person.id(), false, locale));
		return "route/day";
	}

}
