package org.meniscus.visit;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;

import org.meniscus.water.UnitSystem;
import org.meniscus.water.treatment.AmountUnit;
import org.meniscus.water.treatment.MeasuredAmount.Measure;

/** In what a technician writes down what went in: one number and one measure, in the company's units. */
public final class DoseUnits {

	/** "2.25" and LB. */
	public record Entry(BigDecimal count, Measure measure) {
	}

	private static final int DECIMALS = 3;

	private DoseUnits() {
	}

	/** Largest first. */
	public static List<Measure> of(UnitSystem units, AmountUnit unit) {
		if (units == UnitSystem.US) {
			return (unit == AmountUnit.G) ? List.of(Measure.LB, Measure.OZ)
					: List.of(Measure.GAL, Measure.QT, Measure.FL_OZ, Measure.TSP);
		}
		return (unit == AmountUnit.G) ? List.of(Measure.KG, Measure.G) : List.of(Measure.L, Measure.ML);
	}

	/** The measure by its name, when the company uses it for such a product. */
	public static Optional<Measure> find(UnitSystem units, AmountUnit unit, String name) {
		return of(units, unit).stream().filter(measure -> measure.name().equals(name)).findFirst();
	}

	/** In the largest measure of which there is a whole quarter-and-half sort of number; else in the smallest that reaches one. */
	public static Entry entry(double amount, AmountUnit unit, UnitSystem units) {
		List<Measure> measures = of(units, unit);
		for (Measure measure : measures) {
			double count = amount / measure.size();
			if (count >= 1 - 1e-9 && (units == UnitSystem.METRIC || Math.abs(count * 8 - Math.rint(count * 8)) < 1e-3)) {
				return entry(count, measure);
			}
		}
		for (int n = measures.size() - 1; n > 0; n--) {
			if (measures.get(n) != Measure.TSP && amount >= measures.get(n).size()) {
				return entry(amount / measures.get(n).size(), measures.get(n));
			}
		}
		Measure smallest = measures.get(measures.size() - 1);
		return entry(amount / smallest.size(), smallest);
	}

	private static Entry entry(double count, Measure measure) {
		BigDecimal rounded = BigDecimal.valueOf(count).setScale(DECIMALS, RoundingMode.HALF_UP).stripTrailingZeros();
		return new Entry((rounded.scale() < 0) ? rounded.setScale(0) : rounded, measure);
	}

}
