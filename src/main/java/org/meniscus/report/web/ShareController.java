package org.meniscus.report.web;

import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientDetails;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.report.ReportLink;
import org.meniscus.report.ReportService;
import org.meniscus.ui.Option;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import org.springframework.web.util.UriUtils;

/** Making and ending the links by which homeowners read reports. */
@Controller
class ShareController {

	private final ReportService reports;

	private final ClientService clients;

	private final CompanyService companies;

	private final UuidGenerator ids;

	private final MessageSource messages;

	private final Clock clock;

	ShareController(ReportService reports, ClientService clients, CompanyService companies, UuidGenerator ids, MessageSource messages,
			Clock clock) {
		this.reports = reports;
		this.clients = clients;
		this.companies = companies;
		this.ids = ids;
		this.messages = messages;
		this.clock = clock;
	}

	@GetMapping("/visits/{id}/share")
	@StaffOnly
	String visit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Locale locale, Model model) {
		model.addAttribute("share", ShareForm.blank(ids.next(), 30));
		return visitPage(me, new VisitId(id), locale, model);
	}

	@PostMapping("/visits/{id}/share/links")
	@StaffOnly
	String shareVisit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @ModelAttribute("share") ShareForm form,
			BindingResult errors, Locale locale, Model model, RedirectAttributes next) {
		VisitId visit = new VisitId(id);
		Integer days = form.daysOf(ReportService.VISIT_LINK_DAYS, errors);
		if (days == null) {
			return visitPage(me, visit, locale, model);
		}
		VisitRecord record = reports.visit(me, visit);
		return "redirect:/visits/" + id + "/share"
				+ redirectWithLink(me, reports.share(me, linkOf(form), visit, days), record.pool(), next);
	}

	@PostMapping("/visits/{id}/share/revoke")
	@StaffOnly
	String revokeVisit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam UUID link) {
		reports.revoke(me, new VisitId(id), link);
		return "redirect:/visits/" + id + "/share?revoked";
	}

	@GetMapping("/pools/{id}/share")
	@OfficeOnly
	String pool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Locale locale, Model model) {
		model.addAttribute("share", ShareForm.blank(ids.next(), 180));
		return poolPage(me, new PoolId(id), locale, model);
	}

	@PostMapping("/pools/{id}/share/links")
	@OfficeOnly
	String sharePool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @ModelAttribute("share") ShareForm form,
			BindingResult errors, Locale locale, Model model, RedirectAttributes next) {
		PoolId pool = new PoolId(id);
		Integer days = form.daysOf(ReportService.STANDING_LINK_DAYS, errors);
		if (days == null) {
			return poolPage(me, pool, locale, model);
		}
		return "redirect:/pools/" + id + "/share" + redirectWithLink(me, reports.share(me, linkOf(form), pool, days), pool, next);
	}

	@PostMapping("/pools/{id}/share/revoke")
	@OfficeOnly
	String revokePool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam UUID link) {
		reports.revoke(me, new PoolId(id), link);
		return "redirect:/pools/" + id + "/share?revoked";
	}

	private String visitPage(SignedInUser me, VisitId id, Locale locale, Model model) {
		VisitRecord visit = reports.visit(me, id);
		PoolSummary pool = clients.pool(me.company(), visit.pool());
		model.addAttribute("standing", false);
		model.addAttribute("day", QuantityFormatter.date(visit.performedOn(), locale));
		model.addAttribute("back", "/visits/" + id.value());
		return page(me, "/visits/" + id.value() + "/share", pool, reports.links(me, id), ReportService.VISIT_LINK_DAYS, locale, model);
	}

	private String poolPage(SignedInUser me, PoolId id, Locale locale, Model model) {
		PoolSummary pool = reports.pool(me, id);
		model.addAttribute("standing", true);
		model.addAttribute("back", "/pools/" + id.value());
		return page(me, "/pools/" + id.value() + "/share", pool, reports.links(me, id), ReportService.STANDING_LINK_DAYS, locale, model);
	}

	private String page(SignedInUser me, String path, PoolSummary pool, List<ReportLink> links, List<Integer> days, Locale locale,
			Model model) {
		CompanySettings company = companies.settings(me.company());
		Instant now = clock.instant();
		List<ShareLine> lines = links.stream()
			.map(link -> new ShareLine(link.id(), time(link.createdAt(), company, locale), link.createdBy(),
					QuantityFormatter.date(link.expiresAt().atZone(company.zone()).toLocalDate(), locale), link.state(now).name()))
			.toList();
		model.addAttribute("path", path);
		model.addAttribute("poolName", pool.name());
		model.addAttribute("clientName", pool.clientName());
		model.addAttribute("links", lines);
		model.addAttribute("open", lines.stream().anyMatch(ShareLine::isOpen));
		model.addAttribute("days", days.stream()
			.map(count -> new Option(count.toString(), messages.getMessage("share.days.count", new Object[]{ count }, locale)))
			.toList());
		return "report/share";
	}

	/** Hands the link to the next page, once. */
	private String redirectWithLink(SignedInUser me, Optional<String> token, PoolId pool, RedirectAttributes next) {
		if (token.isEmpty()) {
			return "?again";
		}
		String link = ServletUriComponentsBuilder.fromCurrentContextPath().path("/r/").path(token.get()).build().toUriString();
		ClientDetails client = clients.client(me.company(), clients.pool(me.company(), pool).client()).details();
		next.addFlashAttribute("made", link);
		next.addFlashAttribute("mail", mailtoAddress(me, client, link));
		return "?saved";
	}

	/** In the client's language; the client's address only for the office. */
	private String mailtoAddress(SignedInUser me, ClientDetails client, String link) {
		Locale language = Locale.forLanguageTag(client.language());
		String company = companies.settings(me.company()).name();
		String address = (me.hasOfficeAccess() && client.email() != null) ? client.email() : "";
		return "mailto:" + encode(address) + "?subject="
				+ encode(messages.getMessage("report.mail.subject", new Object[]{ company }, language)) + "&body="
				+ encode(messages.getMessage("report.mail.body", new Object[]{ company, link }, language));
	}

	private UUID linkOf(ShareForm form) {
		UUID link = form.linkId();
		return (link != null) ? link : ids.next();
	}

	private static String encode(@Nullable String text) {
		return (text == null) ? "" : UriUtils.encode(text, StandardCharsets.UTF_8);
	}

	private static String time(Instant instant, CompanySettings company, Locale locale) {
		ZonedDateTime time = instant.atZone(company.zone());
		return QuantityFormatter.date(time.toLocalDate(), locale) + " " + QuantityFormatter.time(time.toLocalTime(), locale);
	}

}
