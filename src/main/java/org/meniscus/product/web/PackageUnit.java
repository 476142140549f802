package org.meniscus.product.web;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;
import org.springframework.context.MessageSource;

/** In what a package, a label's maximum or a tablet is stated; in the order of their size, the largest first. */
enum PackageUnit {

	GAL(UnitSystem.US, AmountUnit.ML, Volume.ofUsGallons(1).millilitres()),
	QT(UnitSystem.US, AmountUnit.ML, Volume.ofUsQuarts(1).millilitres()),
	FL_OZ(UnitSystem.US, AmountUnit.ML, Volume.MILLILITRES_PER_US_FLUID_OUNCE),
	LB(UnitSystem.US, AmountUnit.G, Mass.GRAMS_PER_POUND),
	OZ(UnitSystem.US, AmountUnit.G, Mass.GRAMS_PER_OUNCE),
	L(UnitSystem.METRIC, AmountUnit.ML, 1000),
	ML(UnitSystem.METRIC, AmountUnit.ML, 1),
	KG(UnitSystem.METRIC, AmountUnit.G, 1000),
	G(UnitSystem.METRIC, AmountUnit.G, 1);

	private final UnitSystem system;

	private final AmountUnit base;

	private final double amount;

	PackageUnit(UnitSystem system, AmountUnit amountUnit, double amount) {
		this.system = system;
		this.base = amountUnit;
		this.amount = amount;
	}

	/** Grams or millilitres in one of it. */
	double amount() {
		return amount;
	}

	static List<PackageUnit> of(UnitSystem system, AmountUnit amountUnit) {
		return Arrays.stream(values()).filter(unit -> unit.system == system && unit.base == amountUnit).toList();
	}

	/** What a tablet or a scoop is stated in. */
	static PackageUnit smallest(UnitSystem system, AmountUnit amountUnit) {
		List<PackageUnit> units = of(system, amountUnit);
		return units.get(units.size() - 1);
	}

	/** The largest unit of which there is at least one; the smallest for less. */
	static PackageUnit bestFit(UnitSystem system, AmountUnit amountUnit, @Nullable Double amount) {
		List<PackageUnit> units = of(system, amountUnit);
		double stated = (amount != null) ? amount : units.get(0).amount;
		return units.stream().filter(unit -> stated >= unit.amount * 0.999).findFirst().orElse(smallest(system, amountUnit));
	}

	/** How many of this unit. */
	String count(double amount, int decimals) {
		return QuantityFormatter.decimal(amount / this.amount, decimals);
	}

	/** "2.5 gal". */
	static String format(UnitSystem system, AmountUnit amountUnit, double amount, MessageSource texts, Locale locale) {
		PackageUnit unit = bestFit(system, amountUnit, amount);
		return unit.count(amount, 2) + " " + unit.name(texts, locale);
	}

	String name(MessageSource texts, Locale locale) {
		return texts.getMessage("product.unit." + name(), null, locale);
	}

}
