package org.meniscus.client.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientRecord;
import org.meniscus.client.ClientSearchService;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolDetails;
import org.meniscus.client.PoolDimensions;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolRecord;
import org.meniscus.client.PoolShape;
import org.meniscus.client.PoolSize;
import org.meniscus.client.PoolUnits;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.ui.Option;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.StringUtils;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Validator;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;

/** The form for a pool, with its volume worked out on the way. */
@Controller
@OfficeOnly
class PoolController {

	private static final String FORM = "client/pool";

	private final ClientService clientService;

	private final ClientSearchService list;

	private final CompanyService companies;

	private final UuidGenerator ids;

	private final MessageSource texts;

	private final Validator validator;

	PoolController(ClientService clientService, ClientSearchService list, CompanyService companies, UuidGenerator ids, MessageSource texts,
			Validator validator) {
		this.clientService = clientService;
		this.list = list;
		this.companies = companies;
		this.ids = ids;
		this.texts = texts;
		this.validator = validator;
	}

	@GetMapping("/pools/new")
	String blank(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable UUID client, Model model,
			Locale locale) {
		ClientId chosen = (client != null) ? clientService.client(me.company(), new ClientId(client)).id() : null;
		model.addAttribute("form", PoolForm.blank(ids.next(), chosen, texts.getMessage("client.pool.name.default", null, locale)));
		return page(me, model, locale, true);
	}

	@PostMapping("/pools")
	String add(@AuthenticationPrincipal SignedInUser me, @Valid @ModelAttribute("form") PoolForm form, BindingResult errors, Model model,
			Locale locale) {
		PoolDetails details = parse(me, form, FormBinding.withTarget(model, "form", form, errors, validator));
		if (details == null) {
			return page(me, model, locale, true);
		}
		clientService.add(me.company(), new PoolId(java.util.Objects.requireNonNull(form.id())), details);
		return "redirect:/clients/" + details.client() + "?poolAdded";
	}

	@GetMapping("/pools/{id}/edit")
	String edit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		CompanySettings settings = companies.settings(me.company());
		PoolRecord pool = clientService.poolRecord(me.company(), new PoolId(id));
		model.addAttribute("form", PoolForm.of(pool, PoolUnits.of(settings.units()), settings.currency()));
		model.addAttribute("pool", pool);
		return page(me, model, locale, false);
	}

	@PostMapping("/pools/{id}")
	String change(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("form") PoolForm form,
			BindingResult errors, Model model, Locale locale) {
		PoolRecord stored = clientService.poolRecord(me.company(), new PoolId(id));
		model.addAttribute("pool", stored);
		PoolDetails details = parse(me, form, FormBinding.withTarget(model, "form", form, errors, validator));
		if (details == null) {
			return page(me, model, locale, false);
		}
		try {
			clientService.change(me.company(), stored.id(), (form.version() != null) ? form.version() : -1, details);
		}
		catch (StaleVersion ex) {
			FormBinding.rebind(model, "form", form.withVersion(clientService.poolRecord(me.company(), stored.id()).version()));
			model.addAttribute("stale", true);
			return page(me, model, locale, false);
		}
		return "redirect:/clients/" + details.client() + "?saved";
	}

	/** Works the volume out and puts it into the form on demand; nothing is stored. */
	@PostMapping("/pools/volume")
	String volume(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("form") PoolForm form, BindingResult errors,
			@RequestParam(required = false) @Nullable String use,
			@RequestHeader(name = "HX-Target", required = false) @Nullable String target,
			Model model, Locale locale) {
		PoolUnits units = units(me);
		PoolDimensions measures = new PoolFormParser(form, units, companies.settings(me.company()).currency(),
				FormBinding.withTarget(model, "form", form, errors))
			.parseDimensions();
		if (measures != null) {
			boolean fill = use != null;
			model.addAttribute("calculation", VolumeCalculation.of(measures, fill ? null : form.volume(), units, texts, locale));
			if (fill) {
				FormBinding.rebind(model, "form", form.withSize(PoolSize.of(measures), units));
			}
		}
		addOptions(model, me, locale);
		if ("pool-volume-calculation".equals(target)) {
			return FORM + " :: calculation";
		}
		if ("pool-volume".equals(target)) {
			return FORM + " :: volume";
		}
		return page(me, model, locale, form.version() == null);
	}

	@PostMapping("/pools/{id}/archive")
	String archive(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		clientService.archive(me.company(), new PoolId(id));
		return "redirect:/clients/" + clientService.pool(me.company(), new PoolId(id)).client() + "?poolArchived";
	}

	@PostMapping("/pools/{id}/restore")
	String restore(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		clientService.restore(me.company(), new PoolId(id));
		return "redirect:/clients/" + clientService.pool(me.company(), new PoolId(id)).client() + "?poolRestored";
	}

	private @Nullable PoolDetails parse(SignedInUser me, PoolForm form, BindingResult errors) {
		if (form.client() != null && list.options(me.company()).stream().noneMatch(choice -> choice.id().value().equals(form.client()))
				&& !isStoredClient(me, form)) {
			errors.rejectValue("client", "client.choose");
		}
		CompanySettings settings = companies.settings(me.company());
		return new PoolFormParser(form, PoolUnits.of(settings.units()), settings.currency(), errors).parse();
	}

	/** An archived client keeps its pools; they can still be edited. */
	private boolean isStoredClient(SignedInUser me, PoolForm form) {
		try {
			return form.id() != null
					&& clientService.poolRecord(me.company(), new PoolId(form.id())).details().client().value().equals(form.client());
		}
		catch (org.meniscus.platform.NotFound ex) {
			return false;
		}
	}

	private String page(SignedInUser me, Model model, Locale locale, boolean isNew) {
		addOptions(model, me, locale);
		PoolForm form = (PoolForm) model.getAttribute("form");
		List<Option> clients = new ArrayList<>();
		clients.add(new Option("", text("client.choose.client", locale)));
		list.options(me.company()).forEach(choice -> clients.add(new Option(choice.id().toString(), choice.name())));
		if (form != null && form.id() != null && !isNew && isStoredClient(me, form)
				&& clients.stream().noneMatch(option -> option.value().equals(String.valueOf(form.client())))) {
			ClientRecord archived = clientService.client(me.company(), new ClientId(java.util.Objects.requireNonNull(form.client())));
			clients.add(new Option(archived.id().toString(), archived.details().name()));
		}
		model.addAttribute("clients", clients);
		model.addAttribute("bodies", options("client.body.", BodyOfWater.values(), locale, false));
		model.addAttribute("surfaces", options("water.surface.label.", Surface.values(), locale, true));
		model.addAttribute("sanitizers", options("water.sanitizer.", Sanitizer.values(), locale, true));
		model.addAttribute("filters", options("client.filter.", Equipment.Filter.values(), locale, true));
		model.addAttribute("isNew", isNew);
		return FORM;
	}

	/** What the volume's part of the form needs, also when it is sent alone. */
	private void addOptions(Model model, SignedInUser me, Locale locale) {
		model.addAttribute("units", units(me).name());
		List<Option> shapes = new ArrayList<>();
		shapes.add(new Option("", text("client.shape.none", locale)));
		shapes.addAll(options("client.shape.", PoolShape.values(), locale, false));
		model.addAttribute("shapes", shapes);
		model.addAttribute("certainties", options("client.certainty.", VolumeCertainty.values(), locale, false));
		model.addAttribute("measureFields", List.of("shape", "length", "width", "narrow", "shallow", "deep"));
		if (!model.containsAttribute("calculation")) {
			model.addAttribute("calculation", null);
		}
	}

	private List<Option> options(String prefix, Enum<?>[] values, Locale locale, boolean asks) {
		List<Option> options = new ArrayList<>();
		if (asks) {
			options.add(new Option("", text("client.choose", locale)));
		}
		for (Enum<?> value : values) {
			options.add(new Option(value.name(), StringUtils.capitalize(text(prefix + value.name(), locale))));
		}
		return options;
	}

	private String text(String key, Locale locale) {
		return texts.getMessage(key, null, locale);
	}

	private PoolUnits units(SignedInUser me) {
		return PoolUnits.of(companies.settings(me.company()).units());
	}

}
