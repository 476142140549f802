package org.meniscus.client.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.client.TargetService;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.Targets;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Ranges the water should be in: the company's own for its pools and spas, and one pool's own. */
@Controller
@OfficeOnly
class TargetController {

	private static final String PAGE = "client/targets";

	private final TargetService targets;

	private final ClientService clientService;

	private final MessageSource texts;

	TargetController(TargetService targets, ClientService clientService, MessageSource texts) {
		this.targets = targets;
		this.clientService = clientService;
		this.texts = texts;
	}

	@InitBinder("form")
	void allowConfigurableLevels(WebDataBinder binder) {
		List<String> fields = new ArrayList<>(List.of("seen"));
		TargetService.CONFIGURABLE_LEVELS
			.forEach(level -> List.of(TargetsForm.RangeFields.NAMES).forEach(limit -> fields.add(TargetsForm.path(level, limit))));
		binder.setAllowedFields(fields.toArray(String[]::new));
	}

	/**
	 * One level of the form, ready to print.
	 *
	 * @param inheritedRange the range that counts when nothing is entered; null when the level has no range otherwise
	 * @param overrides whether there is a range of one's own
	 */
	record TargetRow(Level level, String label, @Nullable String inheritedRange, boolean overrides, List<TargetField> cells) {
	}

	/** One limit. @param error null when nothing is wrong with it */
	record TargetField(String path, String id, String label, String value, @Nullable String error) {
	}

	@GetMapping("/pools/{id}/targets")
	String ofPool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		PoolSummary pool = clientService.pool(me.company(), new PoolId(id));
		model.addAttribute("form", TargetsForm.of(targets.poolRanges(me.company(), pool.id())));
		return poolPage(me, pool, model, null, locale);
	}

	@PostMapping("/pools/{id}/targets")
	String setForPool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @ModelAttribute("form") TargetsForm form,
			BindingResult errors, Model model, Locale locale) {
		PoolSummary pool = clientService.pool(me.company(), new PoolId(id));
		Map<Level, Range> ranges = form.ranges(pool.facts().body(), errors);
		boolean saved = !errors.hasErrors()
				&& isSaved(form, model, () -> targets.setForPool(me.company(), pool.id(), ranges, form.getSeen()),
						() -> targets.poolRanges(me.company(), pool.id()));
		return saved ? "redirect:/pools/" + id + "/targets?saved" : poolPage(me, pool, model, errors, locale);
	}

	@GetMapping("/clients/targets")
	String ofCompany(@AuthenticationPrincipal SignedInUser me, @RequestParam(defaultValue = "POOL") String body, Model model,
			Locale locale) {
		BodyOfWater of = body(body);
		model.addAttribute("form", TargetsForm.of(targets.companyRanges(me.company(), of)));
		return companyPage(me, of, model, null, locale);
	}

	@PostMapping("/clients/targets")
	String setForCompany(@AuthenticationPrincipal SignedInUser me, @RequestParam(defaultValue = "POOL") String body,
			@ModelAttribute("form") TargetsForm form, BindingResult errors, Model model, Locale locale) {
		BodyOfWater of = body(body);
		Map<Level, Range> ranges = form.ranges(of, errors);
		boolean saved = !errors.hasErrors()
				&& isSaved(form, model, () -> targets.setForCompany(me.company(), of, ranges, form.getSeen()),
						() -> targets.companyRanges(me.company(), of));
		return saved ? "redirect:/clients/targets?body=" + of + "&saved" : companyPage(me, of, model, errors, locale);
	}

	/** False when somebody else was faster; the form then stands on what is stored now. */
	private static boolean isSaved(TargetsForm form, Model model, Runnable save, Supplier<Map<Level, Range>> stored) {
		try {
			save.run();
			return true;
		}
		catch (StaleVersion ex) {
			form.setSeen(TargetService.fingerprint(stored.get()));
			model.addAttribute("stale", true);
			return false;
		}
	}

	private String poolPage(SignedInUser me, PoolSummary pool, Model model, @Nullable BindingResult errors, Locale locale) {
		PoolFacts facts = pool.facts();
		Targets inherited = targets.mergedTargets(me.company()).forCompany(facts.body(), facts.surface(), facts.indoor(),
				facts.sanitizer());
		model.addAttribute("pool", pool);
		model.addAttribute("action", "/pools/" + pool.id() + "/targets");
		return page(model, inherited, targets.poolRanges(me.company(), pool.id()), false, errors, locale);
	}

	/** Published ranges differ with surface and sanitizer; shown are those of a plaster pool chlorinated by hand. */
	private String companyPage(SignedInUser me, BodyOfWater body, Model model, @Nullable BindingResult errors, Locale locale) {
		model.addAttribute("pool", null);
		model.addAttribute("bodies", List.of(BodyOfWater.values()));
		model.addAttribute("of", body);
		model.addAttribute("action", "/clients/targets?body=" + body);
		return page(model, Targets.defaults(body, Surface.PLASTER, false, Sanitizer.CHLORINE_BY_HAND),
				targets.companyRanges(me.company(), body),
				true, errors, locale);
	}

	/** @param everyLevel also those that have no range in this kind of pool */
	private String page(Model model, Targets inherited, Map<Level, Range> overrides, boolean everyLevel,
			@Nullable BindingResult errors, Locale locale) {
		TargetsForm form = (TargetsForm) Objects.requireNonNull(model.getAttribute("form"));
		List<TargetRow> rows = new ArrayList<>();
		for (Level level : TargetService.CONFIGURABLE_LEVELS) {
			Range range = inherited.range(level);
			if (range == null && !overrides.containsKey(level) && !everyLevel) {
				continue;
			}
			List<TargetField> cells = new ArrayList<>();
			for (String limit : TargetsForm.RangeFields.NAMES) {
				cells.add(cell(form, level, limit, errors, locale));
			}
			rows.add(new TargetRow(level, LevelNames.nameWithUnit(level, (key, arguments) -> texts.getMessage(key, arguments, locale)),
					(range != null) ? describe(range, locale) : null, overrides.containsKey(level), cells));
		}
		model.addAttribute("rows", rows);
		model.addAttribute("refused", errors != null && errors.hasErrors());
		return PAGE;
	}

	private TargetField cell(TargetsForm form, Level level, String limit, @Nullable BindingResult errors, Locale locale) {
		String path = TargetsForm.path(level, limit);
		Object value = (errors != null) ? errors.getFieldValue(path) : Objects.requireNonNull(form.getLevels().get(level)).get(limit);
		String error = (errors != null && errors.getFieldError(path) != null)
				? texts.getMessage(Objects.requireNonNull(errors.getFieldError(path)), locale) : null;
		return new TargetField(path, level + "-" + limit, text("client.targets." + limit, locale), (value != null) ? value.toString() : "",
				error);
	}

	private String describe(Range range, Locale locale) {
		return texts.getMessage(
				range.source().equals(TargetService.SOURCE_COMPANY) ? "client.targets.range.company" : "client.targets.range",
				new Object[]{ QuantityFormatter.decimal(range.idealLow(), 2), QuantityFormatter.decimal(range.idealHigh(), 2),
						QuantityFormatter.decimal(range.acceptableLow(), 2),
						QuantityFormatter.decimal(range.acceptableHigh(), 2) },
				locale);
	}

	private String text(String key, Locale locale) {
		return texts.getMessage(key, null, locale);
	}

	private static BodyOfWater body(String name) {
		return name.equals(BodyOfWater.SPA.name()) ? BodyOfWater.SPA : BodyOfWater.POOL;
	}

}
