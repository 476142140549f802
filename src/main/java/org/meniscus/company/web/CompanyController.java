package org.meniscus.company.web;

import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.OwnerOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.ui.Option;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;

/** What the owner decides for the whole company. */
@Controller
@OwnerOnly
class CompanyController {

	private final CompanyService companies;

	private final MessageSource texts;

	private final Clock clock;

	CompanyController(CompanyService companies, MessageSource texts, Clock clock) {
		this.companies = companies;
		this.texts = texts;
		this.clock = clock;
	}

	@GetMapping("/company")
	String company(@AuthenticationPrincipal SignedInUser me, Model model, Locale locale) {
		CompanySettings stored = companies.settings(me.company());
		model.addAttribute("form", CompanyForm.of(stored));
		model.addAttribute("version", stored.version());
		return page(stored, model, locale);
	}

	@PostMapping("/company")
	String change(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("form") CompanyForm form, BindingResult bound, Model model,
			Locale locale) {
		CompanySettings stored = companies.settings(me.company());
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound);
		form.validate(errors, stored);
		if (!errors.hasErrors()) {
			try {
				companies.change(me.company(), form.toCommand());
				return "redirect:/company?saved";
			}
			catch (StaleVersion stale) {
				errors.reject("form.stale");
				model.addAttribute("stale", true);
				// compared and saved again, it is meant
				model.addAttribute("version", stored.version());
				return page(stored, model, locale);
			}
		}
		model.addAttribute("version", form.version());
		return page(stored, model, locale);
	}

	private String page(CompanySettings stored, Model model, Locale locale) {
		model.addAttribute("zones", withCurrent(stored.zone().getId(), TimeZoneAndCurrencyOptions.zoneOptions(clock.instant())));
		model.addAttribute("currencies",
				withCurrent(stored.currency().getCurrencyCode(), TimeZoneAndCurrencyOptions.currencyOptions(locale)));
		model.addAttribute("unitSystems", SignUpController.unitOptions(texts, locale));
		return "company/company";
	}

	/** What is in use is always offered. */
	private static List<Option> withCurrent(String value, List<Option> options) {
		if (options.stream().anyMatch(option -> option.value().equals(value))) {
			return options;
		}
		List<Option> more = new ArrayList<>(options);
		more.add(0, new Option(value, value));
		return more;
	}

}
