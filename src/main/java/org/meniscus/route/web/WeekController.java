package org.meniscus.route.web;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;

import jakarta.servlet.http.HttpServletResponse;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopClosed;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;
import org.meniscus.route.TechnicianInactive;
import org.meniscus.route.Week;
import org.meniscus.ui.QuantityFormatter;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The board of a week. */
@Controller
@OfficeOnly
class WeekController {

	private final RouteService route;

	private final RouteOptions options;

	WeekController(RouteService route, RouteOptions options) {
		this.route = route;
		this.options = options;
	}

	/** What became of the last request; {@code refused} when it was not done. */
	record ActionResult(boolean refused, String text) implements java.io.Serializable {
	}

	@GetMapping("/week")
	String week(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String from, Locale locale,
			Model model) {
		board(me, from, locale, model);
		return "route/week";
	}

	@PostMapping("/week/make")
	String generate(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String from, Locale locale,
			RedirectAttributes redirect) {
		LocalDate today = route.today(me.company());
		LocalDate monday = route.week(me.company(), parseDay(from, today)).monday();
		int made = route.generateStops(me.company(), monday.isBefore(today) ? today : monday, monday.plusDays(6));
		redirect.addFlashAttribute("notice", new ActionResult(false, options.text("week.made", locale, made)));
		return "redirect:/week?from=" + monday;
	}

	/** From a button without script: back to the board. From the board's script: the board itself, 409 when it was refused. */
	@PostMapping("/week/move")
	String move(@AuthenticationPrincipal SignedInUser me, @RequestParam String to, @RequestParam(required = false) @Nullable String from,
			@RequestHeader(name = "HX-Request", required = false) @Nullable String exchange, Locale locale, Model model,
			RedirectAttributes redirect, HttpServletResponse response) {
		RouteService.MoveStop move = parseMove(to);
		ActionResult result = tryMove(me, move, locale);
		if (exchange == null) {
			redirect.addFlashAttribute("notice", result);
			return "redirect:/week?from=" + parseDay(from, route.today(me.company())) + "#stop-" + move.stop();
		}
		board(me, from, locale, model);
		model.addAttribute("notice", result);
		response.setHeader("Vary", "HX-Request");
		response.setStatus(result.refused() ? HttpStatus.CONFLICT.value() : HttpStatus.OK.value());
		return "route/week :: board";
	}

	private ActionResult tryMove(SignedInUser me, RouteService.MoveStop move, Locale locale) {
		try {
			route.move(me.company(), move);
			StopLine stop = route.stop(me.company(), move.stop());
			String technician = route.technician(me.company(), stop.technician()).map(PersonSummary::name).orElse("");
			return new ActionResult(false, options.text("week.moved", locale, stop.clientName(), technician,
					QuantityFormatter.weekdayAndDate(stop.plannedOn(), locale), stop.place()));
		}
		catch (StaleVersion ex) {
			return new ActionResult(true, options.text("week.stale", locale));
		}
		catch (StopClosed ex) {
			return new ActionResult(true, options.text("stop.closed." + ex.state(), locale));
		}
		catch (TechnicianInactive ex) {
			return new ActionResult(true, options.text("route.technician.gone", locale));
		}
	}

	/**
	 * Where a stop of the board shall go, as one text: stop, version, technician, day and place with commas between. One text,
	 * so that a plain button can send it and the board needs one form instead of two for every stop.
	 */
	private static RouteService.MoveStop parseMove(String text) {
		String[] parts = text.split(",", -1);
		if (parts.length == 5) {
			try {
				return new RouteService.MoveStop(new StopId(UUID.fromString(parts[0])), Long.parseLong(parts[1]),
						new PersonId(UUID.fromString(parts[2])), LocalDate.parse(parts[3]), Integer.valueOf(parts[4]));
			}
			catch (IllegalArgumentException | DateTimeException ex) {
				// answered below
			}
		}
		throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
	}

	private void board(SignedInUser me, @Nullable String from, Locale locale, Model model) {
		Week week = route.week(me.company(), parseDay(from, route.today(me.company())));
		model.addAttribute("week", WeekPage.of(week, locale));
		// what is so now says nothing of a week gone by
		model.addAttribute("closed", week.sunday().isBefore(week.today()) ? Set.of() : route.closedPools(me.company(), week.stops()));
	}

	/** A day that cannot be read shows the current week. */
	static LocalDate parseDay(@Nullable String text, LocalDate today) {
		if (text == null) {
			return today;
		}
		try {
			LocalDate day = LocalDate.parse(text);
			return (Math.abs(day.getYear() - today.getYear()) > 50) ? today : day;
		}
		catch (DateTimeException ex) {
			return today;
		}
	}

}
