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

	private final DaySheetService daySheets;

	private final RouteService route;

	private final CompanyService companies;

	private final RouteOptions options;

	TodayController(DaySheetService days, RouteService route, CompanyService companies, RouteOptions choices) {
		this.daySheets = days;
		this.route = route;
		this.companies = companies;
		this.options = choices;
	}

	@GetMapping("/today")
	String today(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String on,
			@RequestParam(required = false) @Nullable String technician, Locale locale, Model model) {
		LocalDate day = WeekController.parseDay(on, route.today(me.company()));
		model.addAttribute("day", TodayPage.of(daySheets.sheet(me, day, technicianFilter(technician)),
				companies.settings(me.company()).units(),
				(key, arguments) -> options.text(key, locale, arguments), locale));
		model.addAttribute("chosen", technician);
		return "route/today";
	}

	private static DaySheetService.TechnicianFilter technicianFilter(@Nullable String technician) {
		if (technician == null || technician.isBlank()) {
			return new DaySheetService.TechnicianFilter.OwnOrAll();
		}
		if (technician.equals("all")) {
			return new DaySheetService.TechnicianFilter.AllTechnicians();
		}
		try {
			return new DaySheetService.TechnicianFilter.OneTechnician(new PersonId(UUID.fromString(technician)));
		}
		catch (IllegalArgumentException ex) {
			throw new NotFound("technician");
		}
	}

}
