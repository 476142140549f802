package org.meniscus.visit;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.product.MeasuredAmount.Measure;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/**
 * In what a technician writes down what went in of one product: one number and one unit, tablets where it comes in them and
 * measures of the company's units.
 *
 * @param tablet grams in one tablet, null when the product is not counted
 */
public record DoseUnits(UnitSystem units, AmountUnit amountUnit, @Nullable Double tablet) {

	/**
	 * A tablet or a measure.
	 *
	 * @param name {@link #TABLET} or the name of a {@link Measure}
	 * @param size grams or millilitres in one
	 */
	public record DoseUnit(String name, double size) {

		private static DoseUnit of(Measure measure) {
			return new DoseUnit(measure.name(), measure.size());
		}

	}

	/** "2.25" and LB. */
	public record DoseQuantity(BigDecimal count, DoseUnit unit) {

		public boolean inTablets() {
			return unit.name().equals(TABLET);
		}

		/** "2.25 lb", "3 tablets". */
		public String format(Wording.Texts texts) {
			return DoseUnits.format(Wording.trimmedDecimal(count.doubleValue(), 2), unit.name(), texts);
		}

	}

	/** The name of the unit of what is counted. */
	public static final String TABLET = "TABLET";

	private static final int DECIMALS = 3;

	/** Amounts are stored to hundredths of a gram. */
	private static final double STORED_STEP = 0.01;

	public static DoseUnits of(Product product, UnitSystem units) {
		return new DoseUnits(units, product.unit(), (product.kind().form() == PhysicalForm.TABLET) ? product.tabletGrams() : null);
	}

	/** Of a product by its id; one that is not among them is weighed or poured. */
	public static DoseUnits of(String product, AmountUnit unit, List<Product> products, UnitSystem units) {
		return products.stream()
			.filter(one -> one.id().equals(product))
			.findFirst()
			.map(one -> of(one, units))
			.orElse(new DoseUnits(units, unit, null));
	}

	/** Of the product of a stored dose, as the company has it now. */
	public static DoseUnits of(DoseRecord dose, List<Product> products, UnitSystem units) {
		return of(dose.product().toString(), dose.unit(), products, units);
	}

	/** "2.25 lb", "1 tablet", with the number as it is given. */
	public static String format(String count, String unit, Wording.Texts texts) {
		if (unit.equals(TABLET)) {
			return texts.text("water.count.TABLET" + (count.equals("1") ? ".one" : ""), count);
		}
		return count + " " + texts.text("water.measure." + unit);
	}

	/** Of all products of a company that are weighed, or poured, largest first. */
	public static List<Measure> measures(UnitSystem units, AmountUnit unit) {
		if (units == UnitSystem.US) {
			return (unit == AmountUnit.G) ? List.of(Measure.LB, Measure.OZ, Measure.G)
					: List.of(Measure.GAL, Measure.QT, Measure.FL_OZ, Measure.TSP);
		}
		return (unit == AmountUnit.G) ? List.of(Measure.KG, Measure.G) : List.of(Measure.L, Measure.ML);
	}

	/** Tablets, then measures, largest first. */
	public List<DoseUnit> all() {
		List<DoseUnit> all = new ArrayList<>();
		if (tablet != null) {
			all.add(new DoseUnit(TABLET, tablet));
		}
		measures(units, amountUnit).forEach(measure -> all.add(DoseUnit.of(measure)));
		return all;
	}

	/** The unit by its name, when it is one for this product. */
	public Optional<DoseUnit> find(String name) {
		return all().stream().filter(unit -> unit.name().equals(name)).findFirst();
	}

	/**
	 * In tablets when it is a whole or half number of them; else in the largest measure of which there is a whole
	 * quarter-and-half sort of number; else in the smallest that reaches one.
	 */
	public DoseQuantity quantity(double amount) {
		if (tablet != null) {
			double halves = Math.rint(2 * amount / tablet);
			if (halves >= 1 && Math.abs(halves * tablet / 2 - amount) < STORED_STEP) {
				return quantity(halves / 2, new DoseUnit(TABLET, tablet));
			}
		}
		return measured(amount);
	}

	private DoseQuantity measured(double amount) {
		List<Measure> measures = new ArrayList<>(measures(units, amountUnit));
		if (units == UnitSystem.US && measures.remove(Measure.G) && amount < Measure.OZ.size()
				&& Math.abs(2 * amount - Math.rint(2 * amount)) < STORED_STEP) {
			// As plans weigh less than an ounce: to half a gram.
			return quantity(amount, DoseUnit.of(Measure.G));
		}
		for (Measure measure : measures) {
			double count = amount / measure.size();
			if (count >= 1 - 1e-9 && (units == UnitSystem.METRIC || Math.abs(count * 8 - Math.rint(count * 8)) < 1e-3)) {
				return quantity(count, DoseUnit.of(measure));
			}
		}
		for (int n = measures.size() - 1; n > 0; n--) {
			if (measures.get(n) != Measure.TSP && amount >= measures.get(n).size()) {
				return quantity(amount / measures.get(n).size(), DoseUnit.of(measures.get(n)));
			}
		}
		Measure smallest = measures.get(measures.size() - 1);
		return quantity(amount / smallest.size(), DoseUnit.of(smallest));
	}

	private static DoseQuantity quantity(double count, DoseUnit unit) {
		BigDecimal rounded = BigDecimal.valueOf(count).setScale(DECIMALS, RoundingMode.HALF_UP).stripTrailingZeros();
		return new DoseQuantity((rounded.scale() < 0) ? rounded.setScale(0) : rounded, unit);
	}

}
