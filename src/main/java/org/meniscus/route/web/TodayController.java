package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.route.DaySheetService;
import org.meniscus.route.RouteService;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The day as it is driven. */
@Controller
@StaffOnly
class TodayController {

	private final DaySheetService days;

	private final RouteService route;

	private final CompanyService companies;

	private final RouteOptions choices;

	TodayController(DaySheetService days, RouteService route, CompanyService companies, RouteOptions choices) {
		this.days = days;
		this.route = route;
		this.companies = companies;
		this.choices = choices;
	}

	@GetMapping("/today")
	String today(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String on,
			@RequestParam(required = false) @Nullable String technician, Locale locale, Model model) {
		LocalDate day = WeekController.day(on, route.today(me.company()));
		model.addAttribute("day", TodayPage.of(days.sheet(me, day, whose(technician)),
				companies.settings(me.company()).units(), level -> choices.text("today.level." + level, locale), locale));
		model.addAttribute("chosen", technician);
		return "route/today";
	}

	private static DaySheetService.Whose whose(@Nullable String technician) {
		if (technician == null || technician.isBlank()) {
			return new DaySheetService.Whose.Usual();
		}
		if (technician.equals("all")) {
			return new DaySheetService.Whose.Everybodys();
		}
		try {
			return new DaySheetService.Whose.Of(new PersonId(UUID.fromString(technician)));
		}
		catch (IllegalArgumentException ex) {
			throw new NotFound("technician");
		}
	}

}
