package org.meniscus.product.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.platform.web.MoneyField;
import org.meniscus.product.Price;
import org.meniscus.product.ProductDetails;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductRecord;
import org.meniscus.product.ProductService;
import org.meniscus.ui.Choice;
import org.meniscus.ui.Option;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Validator;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The list of products and the form for one. */
@Controller
@OfficeOnly
class ProductController {

	private static final String FORM = "product/form";

	private final ProductService products;

	private final CompanyService companies;

	private final UuidGenerator ids;

	private final MessageSource texts;

	private final Validator validator;

	ProductController(ProductService products, CompanyService companies, UuidGenerator ids, MessageSource texts, Validator validator) {
		this.products = products;
		this.companies = companies;
		this.ids = ids;
		this.texts = texts;
		this.validator = validator;
	}

	/** The products of one category. */
	record CategoryGroup(ProductCategory category, List<ProductRow> rows) {
	}

	@GetMapping("/products")
	String list(@AuthenticationPrincipal SignedInUser me, @RequestParam(defaultValue = "false") boolean archived, Model model,
			Locale locale) {
		ProductFormatter formatter = formatter(me, locale);
		Map<ProductId, Price> prices = products.prices(me.company(), products.today(me.company()));
		Map<ProductCategory, List<ProductRow>> groups = new EnumMap<>(ProductCategory.class);
		for (ProductRecord product : products.products(me.company(), archived)) {
			ProductRow row = formatter.row(product, prices.get(product.id()));
			groups.computeIfAbsent(row.category(), key -> new ArrayList<>()).add(row);
		}
		model.addAttribute("groups", groups.entrySet().stream().map(group -> new CategoryGroup(group.getKey(), group.getValue())).toList());
		model.addAttribute("typical", groups.values().stream().flatMap(List::stream).anyMatch(ProductRow::typical));
		model.addAttribute("unpriced",
				groups.values().stream().flatMap(List::stream).anyMatch(row -> row.price() == null && !row.archived()));
		model.addAttribute("archived", archived);
		return "product/products";
	}

	/** First the kind, then the rest of it. */
	@GetMapping("/products/new")
	String blank(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String kind, Model model,
			Locale locale) {
		ProductKind chosen = Arrays.stream(ProductKind.values()).filter(each -> each.name().equals(kind)).findFirst().orElse(null);
		if (chosen == null) {
			model.addAttribute("kinds", kinds(formatter(me, locale)));
			model.addAttribute("refused", kind != null);
			return "product/kind";
		}
		model.addAttribute("form", ProductForm.defaults(ids.next(), chosen, formatter(me, locale).kind(chosen), units(me)));
		return form(me, model, locale, true);
	}

	@PostMapping("/products")
	String add(@AuthenticationPrincipal SignedInUser me, @Valid @ModelAttribute("form") ProductForm form, BindingResult bound, Model model,
			Locale locale) {
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound, validator);
		CompanySettings settings = companies.settings(me.company());
		Integer cents = MoneyField.parse("price", form.price(), settings.currency().getDefaultFractionDigits(), Price.CENTS_MAX, errors);
		ProductDetails details = new ProductFormParser(form, settings.units(), products.today(me.company()), errors).parse();
		if (form.kind() == null) {
			model.addAttribute("kinds", kinds(formatter(me, locale)));
			model.addAttribute("refused", true);
			return "product/kind";
		}
		if (details == null || errors.hasErrors()) {
			return form(me, model, locale, true);
		}
		ProductId id = new ProductId(Objects.requireNonNull(form.id()));
		if (cents != null) {
			products.add(me.company(), id, details, cents);
		}
		else {
			products.add(me.company(), id, details);
		}
		return "redirect:/products/" + id + "?added";
	}

	@GetMapping("/products/{id}/edit")
	String edit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		model.addAttribute("form", ProductForm.of(products.product(me.company(), new ProductId(id)), units(me)));
		return form(me, model, locale, false);
	}

	@PostMapping("/products/{id}")
	String change(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("form") ProductForm form,
			BindingResult bound, Model model, Locale locale) {
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound, validator);
		ProductRecord stored = products.product(me.company(), new ProductId(id));
		if (form.kind() != stored.details().kind()) {
			model.addAttribute("form", ProductForm.of(stored, units(me)));
			model.addAttribute(BindingResult.MODEL_KEY_PREFIX + "form", new BeanPropertyBindingResult(model.getAttribute("form"), "form"));
			model.addAttribute("stale", true);
			return form(me, model, locale, false);
		}
		ProductDetails details = new ProductFormParser(form, units(me), products.today(me.company()), errors).parse();
		if (details == null) {
			return form(me, model, locale, false);
		}
		try {
			products.change(me.company(), stored.id(), (form.version() != null) ? form.version() : -1, details);
		}
		catch (StaleVersion ex) {
			FormBinding.rebind(model, "form", form.withVersion(products.product(me.company(), stored.id()).version()));
			model.addAttribute("stale", true);
			return form(me, model, locale, false);
		}
		return "redirect:/products/" + id + "?saved";
	}

	@PostMapping("/products/{id}/archive")
	String archive(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		products.archive(me.company(), new ProductId(id));
		return "redirect:/products/" + id + "?archived";
	}

	@PostMapping("/products/{id}/restore")
	String restore(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		products.restore(me.company(), new ProductId(id));
		return "redirect:/products/" + id + "?restored";
	}

	/** Kinds of one category to choose from. */
	record KindGroup(ProductCategory category, List<Option> options) {
	}

	private static List<KindGroup> kinds(ProductFormatter formatter) {
		Map<ProductCategory, List<Option>> groups = new EnumMap<>(ProductCategory.class);
		for (ProductKind kind : ProductKind.values()) {
			groups.computeIfAbsent(ProductCategory.of(kind.ingredient()), key -> new ArrayList<>())
				.add(new Option(kind.name(), formatter.kind(kind)));
		}
		return groups.entrySet()
			.stream()
			.map(group -> new KindGroup(group.getKey(), group.getValue().stream().sorted(Comparator.comparing(Option::text)).toList()))
			.toList();
	}

	private String form(SignedInUser me, Model model, Locale locale, boolean isNew) {
		ProductFormatter formatter = formatter(me, locale);
		ProductKind kind = Objects.requireNonNull(((ProductForm) Objects.requireNonNull(model.getAttribute("form"))).kind());
		model.addAttribute("kindName", formatter.kind(kind));
		model.addAttribute("asksBasis", ProductDetails.hasStrengthBasis(kind));
		model.addAttribute("asksTablet", kind.form() == org.meniscus.water.product.PhysicalForm.TABLET);
		model.addAttribute("asksScoop", ProductDetails.hasScoop(kind));
		model.addAttribute("scoopLabel",
				formatter.text("product.scoop.label." + kind.unit(), PackageUnit.smallest(units(me), kind.unit()).name(texts, locale)));
		model.addAttribute("preferences", Arrays.stream(ProductPreference.values())
			.map(each -> new Choice(each.name(), formatter.text("product.preference." + each),
					formatter.text("product.preference." + each + ".why")))
			.toList());
		model.addAttribute("strengthHint", formatter.text(ProductDetails.hasStrengthBasis(kind) ? "product.strength.hint.hypochlorite"
				: kind.ingredient().chlorine() ? "product.strength.hint.chlorine"
						: (kind == ProductKind.LANTHANUM) ? "product.strength.hint.lanthanum" : "product.strength.hint"));
		model.addAttribute("rateLabel", ProductDetails.hasLabelRate(kind) ? formatter.rateLabel(kind) : "");
		model.addAttribute("formName", formatter.form(kind));
		model.addAttribute("units", units(me).name());
		model.addAttribute("packUnits", PackageUnit.of(units(me), kind.unit())
			.stream()
			.map(unit -> new Option(unit.name(), unit.name(texts, locale)))
			.toList());
		model.addAttribute("bases", List.of(new Option(StrengthBasis.TRADE.name(), formatter.text("product.basis.TRADE")),
				new Option(StrengthBasis.WEIGHT.name(), formatter.text("product.basis.WEIGHT"))));
		model.addAttribute("storages", Arrays.stream(StorageTemperature.values())
			.map(each -> new Option(each.name(), formatter.storage(each)))
			.toList());
		model.addAttribute("isNew", isNew);
		return FORM;
	}

	private ProductFormatter formatter(SignedInUser me, Locale locale) {
		return new ProductFormatter(companies.settings(me.company()), texts, locale);
	}

	private UnitSystem units(SignedInUser me) {
		return companies.settings(me.company()).units();
	}

}
