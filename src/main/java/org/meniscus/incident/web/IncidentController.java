package org.meniscus.incident.web;

import java.time.Clock;
import java.time.DateTimeException;
import java.time.YearMonth;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientService;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.incident.Incident;
import org.meniscus.incident.IncidentService;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.ui.Option;
import org.meniscus.visit.VisitId;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Validator;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The incident log, a month on a sheet, and what is written down of one incident. */
@Controller
@OfficeOnly
class IncidentController {

	private final IncidentService incidents;

	private final ClientService clients;

	private final CompanyService companies;

	private final MessageSource messages;

	private final Validator validator;

	private final Clock clock;

	IncidentController(IncidentService incidents, ClientService clients, CompanyService companies, MessageSource messages,
			Validator validator, Clock clock) {
		this.incidents = incidents;
		this.clients = clients;
		this.companies = companies;
		this.messages = messages;
		this.validator = validator;
		this.clock = clock;
	}

	@ModelAttribute("activeSection")
	String activeSection() {
		return "/clients";
	}

	@GetMapping("/incidents")
	String month(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String month,
			@RequestParam(required = false) @Nullable UUID client, Locale locale, Model model) {
		CompanySettings company = companies.settings(me.company());
		ClientId of = (client != null) ? clients.client(me.company(), new ClientId(client)).id() : null;
		List<YearMonth> months = incidents.months(me.company(), of);
		YearMonth shown = parse(month, months.isEmpty() ? YearMonth.from(company.today(clock)) : months.get(0));
		model.addAttribute("month", name(shown, locale));
		model.addAttribute("months",
				months.stream().map(one -> new Option(one.toString(), name(one, locale))).toList());
		model.addAttribute("chosen", shown.toString());
		model.addAttribute("client", (of != null) ? clients.client(me.company(), of) : null);
		model.addAttribute("incidents", incidents.month(me.company(), shown, of).stream().map(one -> view(one, company, locale)).toList());
		return "incident/month";
	}

	@GetMapping("/visits/{id}/incident")
	String incident(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Locale locale, Model model) {
		CompanySettings company = companies.settings(me.company());
		Incident incident = incidents.incident(me.company(), new VisitId(id));
		model.addAttribute("form", IncidentForm.of(incident, company.zone()));
		return form(incident, company, locale, model);
	}

	@PostMapping("/visits/{id}/incident")
	String write(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("form") IncidentForm form,
			BindingResult bound, Locale locale, Model model) {
		CompanySettings company = companies.settings(me.company());
		Incident incident = incidents.incident(me.company(), new VisitId(id));
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound, validator);
		form.validate(incident.visit(), company.zone(), clock, errors);
		if (errors.hasErrors()) {
			return form(incident, company, locale, model);
		}
		try {
			incidents.record(me, incident.visit().id(), (form.version() != null) ? form.version() : -1, form.record(company.zone()));
		}
		catch (StaleVersion ex) {
			FormBinding.rebind(model, "form", form.withVersion(incidents.incident(me.company(), incident.visit().id()).version()));
			model.addAttribute("stale", true);
			return form(incident, company, locale, model);
		}
		return "redirect:/incidents?month=" + YearMonth.from(incident.visit().performedOn()) + "&saved";
	}

	private String form(Incident incident, CompanySettings company, Locale locale, Model model) {
		model.addAttribute("incident", view(incident, company, locale));
		model.addAttribute("month", YearMonth.from(incident.visit().performedOn()).toString());
		return "incident/form";
	}

	private IncidentView view(Incident incident, CompanySettings company, Locale locale) {
		return IncidentView.of(incident, company, (key, arguments) -> messages.getMessage(key, arguments, locale), locale);
	}

	private static String name(YearMonth month, Locale locale) {
		return month.format(DateTimeFormatter.ofPattern(locale.getLanguage().equals("es") ? "MMMM 'de' yyyy" : "MMMM yyyy", locale));
	}

	private static YearMonth parse(@Nullable String month, YearMonth otherwise) {
		try {
			YearMonth asked = (month == null || month.isBlank()) ? otherwise : YearMonth.parse(month);
			return (asked.getYear() < 2000 || asked.getYear() > 2200) ? otherwise : asked;
		}
		catch (DateTimeException ex) {
			return otherwise;
		}
	}

}
