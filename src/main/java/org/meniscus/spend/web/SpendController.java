package org.meniscus.spend.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.LocalDate;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OwnerOnly;
import org.meniscus.spend.Spend;
import org.meniscus.spend.SpendService;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;

/** What the chemicals cost, for the owner. */
@Controller
@OwnerOnly
class SpendController {

	private final SpendService spending;

	private final CompanyService companies;

	private final Clock clock;

	SpendController(SpendService spending, CompanyService companies, Clock clock) {
		this.spending = spending;
		this.companies = companies;
		this.clock = clock;
	}

	@GetMapping("/spend")
	String spend(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("range") SpendForm requested, BindingResult errors,
			Model model) {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = LocalDate.now(clock.withZone(company.zone()));
		requested.validate(errors);
		SpendForm range = errors.hasErrors() ? new SpendForm(null, null, requested.by()).withDefaults(today)
				: requested.withDefaults(today);
		if (!errors.hasErrors()) {
			model.addAttribute("range", range);
		}
		Spend spend = spending.between(me.company(), day(range.from(), today), day(range.to(), today));
		model.addAttribute("spend", SpendPage.of(spend, range.breakdown(), company.currency()));
		model.addAttribute("from", spend.from());
		model.addAttribute("to", spend.to());
		model.addAttribute("today", today);
		return "spend/spend";
	}

	@GetMapping("/spend.csv")
	ResponseEntity<byte[]> csv(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("range") SpendForm requested,
			BindingResult errors) throws IOException {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = LocalDate.now(clock.withZone(company.zone()));
		requested.validate(errors);
		if (errors.hasErrors()) {
			return ResponseEntity.status(HttpStatus.FOUND).header(HttpHeaders.LOCATION, "/spend").build();
		}
		SpendForm range = requested.withDefaults(today);
		LocalDate from = day(range.from(), today);
		LocalDate to = day(range.to(), today);
		StringBuilder text = new StringBuilder();
		boolean rows = "doses".equals(requested.by());
		if (rows) {
			SpendCsv.doses(text, spending.doses(me.company(), from, to), company.units(), company.currency());
		}
		else {
			SpendCsv.breakdown(text, spending.between(me.company(), from, to), range.breakdown(), company.currency());
		}
		String name = "spend-" + (rows ? "doses" : range.breakdown().urlValue()) + "-" + from + "-" + to + ".csv";
		return ResponseEntity.ok()
			.contentType(new MediaType("text", "csv", StandardCharsets.UTF_8))
			.header(HttpHeaders.CONTENT_DISPOSITION, ContentDisposition.attachment().filename(name).build().toString())
			.body(text.toString().getBytes(StandardCharsets.UTF_8));
	}

	private static LocalDate day(@org.jspecify.annotations.Nullable LocalDate day, LocalDate today) {
		return (day != null) ? day : today;
	}

}
