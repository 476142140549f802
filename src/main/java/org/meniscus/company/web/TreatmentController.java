package org.meniscus.company.web;

import java.time.Month;
import java.time.format.TextStyle;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.TreatmentSettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.OwnerOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.ui.Choice;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.Option;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What the owner decides about treatment plans. */
@Controller
@OwnerOnly
class TreatmentController {

	/** Water of which the rules for the lowest FC are explained. */
	private static final double EXAMPLE_CYA = 40;

	private static final double EXAMPLE_CELSIUS = 25;

	private final CompanyService companies;

	private final MessageSource texts;

	TreatmentController(CompanyService companies, MessageSource texts) {
		this.companies = companies;
		this.texts = texts;
	}

	@GetMapping("/company/treatment")
	String treatment(@AuthenticationPrincipal SignedInUser me, Model model, Locale locale) {
		CompanySettings stored = companies.settings(me.company());
		model.addAttribute("form", TreatmentForm.of(stored.version(), stored.units(), stored.treatment()));
		model.addAttribute("version", stored.version());
		return page(stored, stored.treatment().tests(), model, locale);
	}

	@PostMapping("/company/treatment")
	String change(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("form") TreatmentForm form, BindingResult bound,
			@RequestParam MultiValueMap<String, String> values, Model model, Locale locale) {
		CompanySettings stored = companies.settings(me.company());
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound);
		TestMethods tests = tests(values);
		TreatmentSettings rules = form.parse(stored, errors, locale);
		model.addAttribute("version", form.version());
		if (rules != null) {
			try {
				companies.changeTreatment(me.company(), (form.version() != null) ? form.version() : -1, rules.withTests(tests));
				return "redirect:/company/treatment?saved";
			}
			catch (StaleVersion stale) {
				errors.reject("form.stale");
				model.addAttribute("stale", true);
				// compared and saved again, it is meant
				model.addAttribute("version", stored.version());
			}
		}
		return page(stored, tests, model, locale);
	}

	/** Anything that is no kit is the usual one. */
	private static TestMethods tests(MultiValueMap<String, String> values) {
		TestMethods tests = TestMethods.USUAL;
		for (Level level : TestMethods.CHOSEN) {
			String chosen = values.getFirst("test" + level);
			for (TestKit kit : TestKit.of(level)) {
				tests = kit.name().equals(chosen) ? tests.with(level, new TestMethod(kit, 1)) : tests;
			}
		}
		return tests;
	}

	/** @param kit as chosen */
	record TestChoice(String name, String level, String kit, List<Option> kits) {
	}

	private List<TestChoice> testChoices(TestMethods tests, Locale locale) {
		Wording.Texts words = (key, args) -> texts.getMessage(key, args, locale);
		return TestMethods.CHOSEN.stream()
			.map(level -> new TestChoice("test" + level, LevelNames.nameWithCode(level, words), tests.method(level).kit().name(),
					TestKit.of(level).stream().map(kit -> new Option(kit.name(), LevelNames.test(level, kit, words))).toList()))
			.toList();
	}

	private String page(CompanySettings stored, TestMethods tests, Model model, Locale locale) {
		model.addAttribute("tests", testChoices(tests, locale));
		model.addAttribute("units", stored.units());
		model.addAttribute("defaults", TreatmentForm.of(0, stored.units(), TreatmentSettings.DEFAULTS));
		model.addAttribute("foreignCosts", !stored.currency().getCurrencyCode().equals("USD")
				&& stored.treatment().costs().equals(TreatmentSettings.DEFAULTS.costs()));
		model.addAttribute("minimumRules", minimumRules(stored.units(), locale));
		model.addAttribute("months", months(locale));
		return "company/treatment";
	}

	private List<Choice> minimumRules(UnitSystem units, Locale locale) {
		double ratio = TreatmentPolicy.defaults().cyaPerFc();
		Object[] example = { QuantityFormatter.decimal(ratio, 0), QuantityFormatter.decimal(EXAMPLE_CYA, 0),
				QuantityFormatter.decimal(EXAMPLE_CYA / ratio, 1),
				QuantityFormatter.temperature(units, EXAMPLE_CELSIUS) };
		return Arrays.stream(MinimumRule.values())
			.map(rule -> new Choice(rule.name(), texts.getMessage("company.minimumRule." + rule, null, locale),
					texts.getMessage("company.minimumRule." + rule + ".why", example, locale)))
			.toList();
	}

	private List<Option> months(Locale locale) {
		List<Option> months = new ArrayList<>();
		months.add(new Option("", texts.getMessage("company.season.none", null, locale)));
		for (Month month : Month.values()) {
			months.add(new Option(String.valueOf(month.getValue()), month.getDisplayName(TextStyle.FULL_STANDALONE, locale)));
		}
		return months;
	}

}
