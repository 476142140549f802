package org.meniscus.client.web;

import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientRecord;
import org.meniscus.client.ClientSearchService;
import org.meniscus.client.ClientService;
import org.meniscus.client.ClosedPools;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.ui.Option;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;

/** The list of clients, one client, and the form for a client. */
@Controller
@OfficeOnly
class ClientController {

	private final ClientService clientService;

	private final ClientSearchService list;

	private final ClosedPools closedPools;

	private final CompanyService companies;

	private final UuidGenerator ids;

	private final MessageSource texts;

	ClientController(ClientService clientService, ClientSearchService list, ClosedPools closedPools, CompanyService companies,
			UuidGenerator ids, MessageSource texts) {
		this.clientService = clientService;
		this.list = list;
		this.closedPools = closedPools;
		this.companies = companies;
		this.ids = ids;
		this.texts = texts;
	}

	@GetMapping("/clients")
	String list(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String q,
			@RequestParam(defaultValue = "false") boolean archived, @RequestParam(defaultValue = "0") int page,
			@RequestHeader(name = "HX-Request", defaultValue = "false") boolean exchange, HttpServletResponse response, Model model,
			Locale locale) {
		ClientSearchService.ClientSearchResult found = list.search(me.company(), q, archived, Math.min(page, 10_000));
		model.addAttribute("found", found);
		model.addAttribute("lines", rows(me.company(), found.lines(), locale));
		model.addAttribute("q", q);
		model.addAttribute("archived", archived);
		response.addHeader("Vary", "HX-Request");
		return exchange ? "client/clients :: found" : "client/clients";
	}

	@GetMapping("/clients/new")
	String blank(Model model, Locale locale) {
		model.addAttribute("form", ClientForm.blank(ids.next()));
		return form(model, locale, true);
	}

	@PostMapping("/clients")
	String add(@AuthenticationPrincipal SignedInUser me, @Valid @ModelAttribute("form") ClientForm form, BindingResult errors,
			Model model, Locale locale) {
		if (errors.hasErrors()) {
			return form(model, locale, true);
		}
		clientService.add(me.company(), form.clientId(), form.details());
		return "redirect:/clients/" + form.id() + "?added";
	}

	@GetMapping("/clients/{id}")
	String client(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		ClientRecord client = clientService.client(me.company(), new ClientId(id));
		model.addAttribute("client", client);
		List<ClientSearchService.PoolListLine> pools = list.pools(me.company(), client.id());
		model.addAttribute("pools",
				PoolRow.rows(pools, closed(me.company(), pools), companies.settings(me.company()).units(), texts, locale));
		return "client/client";
	}

	@GetMapping("/clients/{id}/edit")
	String edit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		model.addAttribute("form", ClientForm.of(clientService.client(me.company(), new ClientId(id))));
		return form(model, locale, false);
	}

	@PostMapping("/clients/{id}")
	String change(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("form") ClientForm form,
			BindingResult bound, Model model, Locale locale) {
		ClientRecord stored = clientService.client(me.company(), new ClientId(id));
		BindingResult errors = FormBinding.withTarget(model, "form", form.of(id), bound);
		if (errors.hasErrors()) {
			return form(model, locale, false);
		}
		try {
			clientService.change(me.company(), stored.id(), (form.version() != null) ? form.version() : -1, form.details());
		}
		catch (StaleVersion ex) {
			FormBinding.rebind(model, "form", form.withVersion(clientService.client(me.company(), stored.id()).version()));
			model.addAttribute("stale", true);
			return form(model, locale, false);
		}
		return "redirect:/clients/" + id + "?saved";
	}

	@PostMapping("/clients/{id}/archive")
	String archive(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		clientService.archive(me.company(), new ClientId(id));
		return "redirect:/clients/" + id + "?archived";
	}

	@PostMapping("/clients/{id}/restore")
	String restore(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		clientService.restore(me.company(), new ClientId(id));
		return "redirect:/clients/" + id + "?restored";
	}

	/** A client of the list as its page shows it. */
	record ClientRow(ClientId id, String name, @Nullable String phone, boolean archived, List<PoolRow> pools) {
	}

	private List<ClientRow> rows(CompanyId company, List<ClientSearchService.ClientListLine> lines, Locale locale) {
		var units = companies.settings(company).units();
		Set<PoolId> closed = closed(company, lines.stream().flatMap(line -> line.pools().stream()).toList());
		return lines.stream()
			.map(line -> new ClientRow(line.id(), line.name(), line.phone(), line.archived(),
					PoolRow.rows(line.pools(), closed, units, texts, locale)))
			.toList();
	}

	private Set<PoolId> closed(CompanyId company, List<ClientSearchService.PoolListLine> pools) {
		return closedPools.closed(company, pools.stream().map(ClientSearchService.PoolListLine::id).toList());
	}

	private String form(Model model, Locale locale, boolean isNew) {
		model.addAttribute("languages", List.of(new Option("en", texts.getMessage("client.language.en", null, locale)),
				new Option("es", texts.getMessage("client.language.es", null, locale))));
		model.addAttribute("isNew", isNew);
		return "client/form";
	}

}
