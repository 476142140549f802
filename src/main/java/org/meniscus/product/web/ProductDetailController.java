package org.meniscus.product.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import jakarta.validation.Valid;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.platform.web.MoneyField;
import org.meniscus.product.Price;
import org.meniscus.product.ProductDetails;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductRecord;
import org.meniscus.product.ProductService;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductAge;
import org.springframework.context.MessageSource;
import org.springframework.format.annotation.DateTimeFormat;
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

/** One product: what it is, what it does to the water, and its prices by day. */
@Controller
@OfficeOnly
class ProductDetailController {

	/** Prices reach this far back and, by years, ahead. */
	static final LocalDate FIRST_DAY = LocalDate.of(2000, 1, 1);

	static final int YEARS_AHEAD = 2;

	private final ProductService products;

	private final CompanyService companies;

	private final MessageSource texts;

	private final Validator validator;

	ProductDetailController(ProductService products, CompanyService companies, MessageSource texts, Validator validator) {
		this.products = products;
		this.companies = companies;
		this.texts = texts;
		this.validator = validator;
	}

	/**
	 * A price of the history, ready to print.
	 *
	 * @param until the last day it is valid; null when no later price stands
	 */
	record PriceHistoryRow(LocalDate validFrom, String from, @Nullable String until, String money, String unitMoney, boolean typical,
			boolean current,
			boolean future) {
	}

	@GetMapping("/products/{id}")
	String product(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		ProductRecord product = products.product(me.company(), new ProductId(id));
		model.addAttribute("price", new PriceForm(products.today(me.company()), null));
		return page(me, product, model, locale);
	}

	@PostMapping("/products/{id}/prices")
	String addPrice(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @Valid @ModelAttribute("price") PriceForm form,
			BindingResult bound, Model model, Locale locale) {
		ProductRecord product = products.product(me.company(), new ProductId(id));
		BindingResult errors = FormBinding.withTarget(model, "price", form, bound, validator);
		CompanySettings settings = companies.settings(me.company());
		Integer cents = MoneyField.parse("price", form.price(), settings.currency().getDefaultFractionDigits(), Price.CENTS_MAX, errors);
		LocalDate from = form.validFrom();
		LocalDate last = products.today(me.company()).plusYears(YEARS_AHEAD);
		if (from != null && (from.isBefore(FIRST_DAY) || from.isAfter(last))) {
			errors.rejectValue("validFrom", "product.price.day",
					new Object[]{ QuantityFormatter.date(FIRST_DAY, locale), QuantityFormatter.date(last, locale) }, "Out of range.");
		}
		if (errors.hasErrors()) {
			return page(me, product, model, locale);
		}
		Optional<Price> existing = products.addPrice(me.company(), product.id(), Objects.requireNonNull(from),
				Objects.requireNonNull(cents));
		if (existing.isPresent()) {
			errors.rejectValue("validFrom", "product.price.twice",
					new Object[]{ QuantityFormatter.date(from, locale),
							QuantityFormatter.money(existing.get().cents(), settings.currency()) },
					"Twice.");
			return page(me, product, model, locale);
		}
		return "redirect:/products/" + id + "?priced#prices";
	}

	@PostMapping("/products/{id}/prices/remove")
	String removePrice(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id,
			@RequestParam @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate validFrom) {
		products.removePrice(me.company(), new ProductId(id), validFrom);
		return "redirect:/products/" + id + "?unpriced#prices";
	}

	private String page(SignedInUser me, ProductRecord product, Model model, Locale locale) {
		CompanyId company = me.company();
		CompanySettings settings = companies.settings(company);
		ProductFormatter formatter = new ProductFormatter(settings, texts, locale);
		ProductDetails details = product.details();
		LocalDate today = products.today(company);
		Product forEngine = products.find(company, product.id(), today).orElseThrow();
		List<PriceHistoryRow> lines = priceRows(products.priceHistory(company, product.id()), today, details, formatter, locale);
		model.addAttribute("product", product);
		model.addAttribute("facts", formatter.facts(details));
		ProductAge age = forEngine.age();
		model.addAttribute("strengthLeft", formatter.strengthLeft(details, forEngine));
		model.addAttribute("tooOld", age != null && age.tooOld(Objects.requireNonNull(forEngine.strength())));
		model.addAttribute("effects", formatter.effects(forEngine));
		model.addAttribute("example", formatter.example(details.kind()));
		model.addAttribute("strengthMissing",
				details.strengthPercent() == null && details.kind().dosing() == org.meniscus.water.product.ProductKind.DoseBasis.COMPUTED);
		model.addAttribute("prices", lines);
		model.addAttribute("current", lines.stream().filter(PriceHistoryRow::current).findFirst().orElse(null));
		return "product/product";
	}

	private static List<PriceHistoryRow> priceRows(List<Price> newestFirst, LocalDate today, ProductDetails details,
			ProductFormatter formatter,
			Locale locale) {
		List<PriceHistoryRow> lines = new ArrayList<>();
		LocalDate next = null;
		for (Price price : newestFirst) {
			boolean ahead = price.validFrom().isAfter(today);
			boolean valid = !ahead && (next == null || next.isAfter(today));
			lines.add(new PriceHistoryRow(price.validFrom(), QuantityFormatter.date(price.validFrom(), locale),
					(next != null) ? QuantityFormatter.date(next.minusDays(1), locale) : null, formatter.money(details, price),
					formatter.unitMoney(details, price), price.typical(), valid, ahead));
			next = price.validFrom();
		}
		return lines;
	}

}
