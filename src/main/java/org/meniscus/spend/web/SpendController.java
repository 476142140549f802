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

	private final SpendService book;

	private final CompanyService companies;

	private final Clock clock;

	SpendController(SpendService book, CompanyService companies, Clock clock) {
		this.book = book;
		this.companies = companies;
		this.clock = clock;
	}

	@GetMapping("/spend")
	String spend(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("range") SpendForm asked, BindingResult errors, Model model) {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = LocalDate.now(clock.withZone(company.zone()));
		asked.check(errors);
		SpendForm range = errors.hasErrors() ? new SpendForm(null, null, asked.by()).orUsual(today) : asked.orUsual(today);
		if (!errors.hasErrors()) {
			model.addAttribute("range", range);
		}
		Spend spend = book.between(me.company(), day(range.from(), today), day(range.to(), today));
		model.addAttribute("spend", SpendPage.of(spend, range.cut(), company.currency()));
		model.addAttribute("from", spend.from());
		model.addAttribute("to", spend.to());
		model.addAttribute("today", today);
		return "spend/spend";
	}

	@GetMapping("/spend.csv")
	ResponseEntity<byte[]> table(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("range") SpendForm asked,
			BindingResult errors) throws IOException {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = LocalDate.now(clock.withZone(company.zone()));
		asked.check(errors);
		if (errors.hasErrors()) {
			return ResponseEntity.status(HttpStatus.FOUND).header(HttpHeaders.LOCATION, "/spend").build();
		}
		SpendForm range = asked.orUsual(today);
		LocalDate from = day(range.from(), today);
		LocalDate to = day(range.to(), today);
		StringBuilder text = new StringBuilder();
		boolean rows = "doses".equals(asked.by());
		if (rows) {
			SpendCsv.doses(text, book.doses(me.company(), from, to), company.units(), company.currency());
		}
		else {
			SpendCsv.cut(text, book.between(me.company(), from, to), range.cut(), company.currency());
		}
		String name = "spend-" + (rows ? "doses" : range.cut().word()) + "-" + from + "-" + to + ".csv";
		return ResponseEntity.ok()
			.contentType(new MediaType("text", "csv", StandardCharsets.UTF_8))
			.header(HttpHeaders.CONTENT_DISPOSITION, ContentDisposition.attachment().filename(name).build().toString())
			.body(text.toString().getBytes(StandardCharsets.UTF_8));
	}

	private static LocalDate day(@org.jspecify.annotations.Nullable LocalDate day, LocalDate today) {
		return (day != null) ? day : today;
	}

}
