package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyRegister;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.route.DayBook;
import org.meniscus.route.RouteBook;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The day as it is driven. */
@Controller
@StaffOnly
class TodayPages {

	private final DayBook days;

	private final RouteBook route;

	private final CompanyRegister companies;

	private final Choices choices;

	TodayPages(DayBook days, RouteBook route, CompanyRegister companies, Choices choices) {
		this.days = days;
		this.route = route;
		this.companies = companies;
		this.choices = choices;
	}

	@GetMapping("/today")
	String today(@AuthenticationPrincipal SignedIn me, @RequestParam(required = false) @Nullable String on,
			@RequestParam(required = false) @Nullable String technician, Locale locale, Model model) {
		LocalDate day = WeekPages.day(on, route.today(me.company()));
		model.addAttribute("day", TodayPage.of(days.sheet(me, day, whose(technician)),
				companies.settings(me.company()).units(), level -> choices.text("today.level." + level, locale), locale));
		model.addAttribute("chosen", technician);
		return "route/today";
	}

	private static DayBook.Whose whose(@Nullable String technician) {
		if (technician == null || technician.isBlank()) {
			return new DayBook.Whose.Usual();
		}
		if (technician.equals("all")) {
			return new DayBook.Whose.Everybodys();
		}
		try {
			return new DayBook.Whose.Of(new PersonId(UUID.fromString(technician)));
		}
		catch (IllegalArgumentException ex) {
			throw new NotFound("technician");
		}
	}

}
