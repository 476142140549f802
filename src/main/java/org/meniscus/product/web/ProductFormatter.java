package org.meniscus.product.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanySettings;
import org.meniscus.product.Delivery;
import org.meniscus.product.Price;
import org.meniscus.product.ProductDetails;
import org.meniscus.product.ProductRecord;
import org.meniscus.product.SampleDoseEffects;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductAge;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.MessageSource;

/** A product in a reader's words, a company's units and its money. */
final class ProductFormatter {

	private static final List<Level> DESCRIBED_LEVELS = List.of(Level.CYA, Level.CH, Level.TA, Level.SALT, Level.BORATE);

	private final CompanySettings company;

	private final MessageSource texts;

	private final Locale locale;

	ProductFormatter(CompanySettings company, MessageSource texts, Locale locale) {
		this.company = company;
		this.texts = texts;
		this.locale = locale;
	}

	/**
	 * What is known about a product, ready to print.
	 *
	 * @param purpose what it is for and what else it does
	 * @param tablet null when it does not come in tablets
	 * @param scoop null when it is weighed or poured
	 * @param delivered day and storage; null when not known or when it keeps its strength
	 */
	record ProductFactTexts(String kind, String purpose, String form, String strength, @Nullable String basis, String density, String pack,
			@Nullable String tablet, @Nullable String scoop, String preference, String labelMaximum, @Nullable String labelRate,
			@Nullable String delivered) {
	}

	ProductFactTexts facts(ProductDetails details) {
		ProductKind kind = details.kind();
		Double density = details.density();
		Double tablet = details.tabletGrams();
		Double scoop = details.scoop();
		Double rate = details.labelPerPpm();
		String max = labelMaximum(details);
		Delivery delivery = details.delivery();
		return new ProductFactTexts(kind(kind), text("product.for." + kind.ingredient()), form(kind),
				strength(details), (details.strengthPercent() != null) ? basis(details) : null,
				(density != null) ? density(density) : text("product.density.usual", density(kind.density())),
				amount(kind, details.packageAmount()), (tablet != null) ? amount(kind, tablet) : null,
				(scoop != null) ? amount(kind, scoop) : null, text("product.preference." + details.preference()),
				(max != null) ? max : text("product.label.none"),
				(rate != null) ? text("product.rate.facts." + kind.ingredient(), perWater(kind, rate)) : null,
				(delivery != null)
						? text("product.delivered.facts", QuantityFormatter.date(delivery.on(), locale), storage(delivery.storage()))
						: null);
	}

	ProductRow row(ProductRecord product, @Nullable Price price) {
		ProductDetails details = product.details();
		return new ProductRow(product.id(), details.name(), ProductCategory.of(details.kind().ingredient()), strength(details),
				form(details.kind()),
				amount(details.kind(), details.packageAmount()), (price != null) ? money(details, price) : null,
				price != null && price.typical(), details.onTruck(), details.preference(), product.archived());
	}

	/** "12.5 trade %"; where no dose is worked out anyway, that the label says. */
	private String strength(ProductDetails details) {
		Double percent = details.strengthPercent();
		if (percent == null) {
			return text(
					(details.kind().dosing() == ProductKind.DoseBasis.AS_LABELLED) ? "product.strength.label" : "product.strength.unknown");
		}
		return text("product.strength." + basis(details.kind(), details), QuantityFormatter.decimal(percent, 3));
	}

	/** "After 40 days a dose counts 9.8 trade %"; null while it counts as labelled. @param today as of today */
	@Nullable
	String strengthLeft(ProductDetails details, Product today) {
		ProductAge age = today.age();
		Double strength = today.strength();
		return (age != null && strength != null) ? text("product.strength.left", age.days(),
				text("product.strength." + basis(details.kind(), details), QuantityFormatter.decimal(100 * strength, 1))) : null;
	}

	/** Where it is kept, with what that means in degrees. */
	String storage(StorageTemperature storage) {
		return text("product.storage." + storage, Wording.level(Level.TEMPERATURE, storage.mean().celsius(), company.units()));
	}

	/** What the strength counts, said in full. */
	private String basis(ProductDetails details) {
		return text("product.basis." + basis(details.kind(), details));
	}

	private static String basis(ProductKind kind, ProductDetails details) {
		if (ProductDetails.hasStrengthBasis(kind)) {
			return details.basis().name();
		}
		return kind.ingredient().chlorine() ? "CHLORINE" : "PURITY";
	}

	String form(ProductKind kind) {
		return text("product.form." + kind.form());
	}

	String kind(ProductKind kind) {
		return text("product.kind." + kind);
	}

	String amount(ProductKind kind, double amount) {
		return PackageUnit.format(company.units(), kind.unit(), amount, texts, locale);
	}

	String money(long cents) {
		return QuantityFormatter.money(cents, company.currency());
	}

	/** "$10.50", and what for when the package was another. */
	String money(ProductDetails details, Price price) {
		Double before = price.packageAmount();
		return (before != null) ? text("product.price.old", money(price.cents()), amount(details.kind(), before)) : money(price.cents());
	}

	/** What one unit costs at a price: "$4.20 a gal". Rounded half up, for comparing only. */
	String unitMoney(ProductDetails details, Price price) {
		PackageUnit unit = PackageUnit.of(company.units(), details.kind().unit()).get(0);
		Double before = price.packageAmount();
		double amount = (before != null) ? before : details.packageAmount();
		return text("product.price.per", money(Math.round(price.cents() * unit.amount() / amount)), unit.name(texts, locale));
	}

	/** "9.75 lb/gal". */
	private String density(double kilogramsPerLitre) {
		return QuantityFormatter.decimal(kilogramsPerLitre / ProductUnits.kilogramsPerLitre(company.units()), 2) + " "
				+ text("product.density." + company.units());
	}

	/** Of the field for what a label gives for each ppm. */
	String rateLabel(ProductKind kind) {
		return text("product.rate." + kind.ingredient() + "." + company.units(),
				PackageUnit.smallest(company.units(), kind.unit()).name(texts, locale));
	}

	/** "2 lb in 10,000 gal". */
	private String perWater(ProductKind kind, double perCubicMetre) {
		return text("product.perWater." + company.units(), amount(kind, perCubicMetre * ProductUnits.labelCubicMetres(company.units())));
	}

	/** What the label allows in one addition or, without a figure, what is usual; null when neither is known. */
	private @Nullable String labelMaximum(ProductDetails details) {
		Double label = details.labelMaxPerM3();
		if (label != null) {
			return perWater(details.kind(), label);
		}
		Double usual = details.kind().mostPerLitre();
		return (usual != null) ? text("product.most.usual", perWater(details.kind(), usual * 1000)) : null;
	}

	/** What so much of it does, a sentence each; empty when nothing is worked out for it. */
	List<String> effects(Product product) {
		double amount = exampleAmount(product.kind());
		List<String> sentences = new ArrayList<>();
		SampleDoseEffects.of(product, amount, ProductUnits.labelCubicMetres(company.units()) * 1000).ifPresent(effects -> {
			if (effects.freeChlorine() > 0) {
				sentences.add(text("product.effect.fc", ppm(effects.freeChlorine())));
			}
			for (Map.Entry<Level, Double> change : effects.lasting().entrySet()) {
				if (DESCRIBED_LEVELS.contains(change.getKey())) {
					double by = change.getValue();
					sentences.add(text("product.effect." + change.getKey() + ((by > 0) ? ".up" : ".down"), ppm(Math.abs(by))));
				}
			}
			Double later = effects.phAfterChlorineSpent();
			if (later != null) {
				sentences.add(text("product.effect.ph.chlorine", ph(effects.phAfter()), ph(later)));
			}
			else {
				boolean moves = !ph(effects.phAfter()).equals(ph(SampleDoseEffects.SAMPLE_WATER.ph()));
				sentences.add(moves ? text("product.effect.ph", ph(effects.phAfter())) : text("product.effect.ph.none"));
			}
		});
		return sentences;
	}

	/** "1 lb in 10,000 gal": what {@link #effects} speaks of. */
	String example(ProductKind kind) {
		return text("product.perWater." + company.units(), amount(kind, exampleAmount(kind)));
	}

	/** A pound or a quart for 10,000 gal, 100 g or mL for 10 m³: about as much. */
	private double exampleAmount(ProductKind kind) {
		boolean liquid = kind.unit() == AmountUnit.ML;
		if (company.units() == UnitSystem.US) {
			return (liquid ? PackageUnit.QT : PackageUnit.LB).amount();
		}
		return 100;
	}

	private String ppm(double value) {
		return QuantityFormatter.decimal(value, (value < 0.1) ? 2 : 1);
	}

	private static String ph(double value) {
		return String.format(Locale.US, "%.1f", value);
	}

	String text(String key, Object... args) {
		return texts.getMessage(key, args, locale);
	}

}
