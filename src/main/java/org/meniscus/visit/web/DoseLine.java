package org.meniscus.visit.web;

import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.meniscus.visit.Advice;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.water.UnitSystem;
import org.meniscus.water.treatment.AmountUnit;

/**
 * One line of "what went in", as typed.
 *
 * @param planned grams or millilitres that the plan had said, "label" when it left the amount to the label, empty when it said nothing
 */
record DoseLine(String product, String amount, String unit, String planned) {

	static final int MOST = 30;

	private static final String AS_LABELLED = "label";

	static DoseLine blank() {
		return new DoseLine("", "", "", "");
	}

	/** As the plan says; without an amount where the label gives it. */
	static DoseLine of(Advice.Step step, UnitSystem units) {
		Double amount = step.amount();
		if (amount == null) {
			return new DoseLine(step.productId(), "", DoseUnits.of(units, step.unit()).get(0).name(), AS_LABELLED);
		}
		return of(step.productId(), amount, step.unit(), amount, units);
	}

	static DoseLine of(DoseRecord dose, UnitSystem units) {
		return of(dose.product().value().toString(), dose.amount(), dose.unit(), dose.plannedAmount(), units);
	}

	private static DoseLine of(String product, double amount, AmountUnit unit, @Nullable Double planned, UnitSystem units) {
		DoseUnits.Entry entry = DoseUnits.entry(amount, unit, units);
		return new DoseLine(product, entry.count().toPlainString(), entry.measure().name(),
				(planned != null) ? String.format(Locale.ROOT, "%.4f", planned) : "");
	}

	/** Nothing chosen and nothing written. */
	boolean isBlank() {
		return product.isEmpty() && amount.isEmpty();
	}

	@Nullable Double plannedAmount() {
		try {
			double value = planned.isEmpty() ? 0 : Double.parseDouble(planned);
			return (value > 0 && value < 1e9) ? Double.valueOf(value) : null;
		}
		catch (NumberFormatException ex) {
			return null;
		}
	}

	/** Stands as the plan filled it in. */
	boolean untouched(AmountUnit productUnit, UnitSystem units) {
		Double value = plannedAmount();
		if (value == null) {
			return false;
		}
		DoseUnits.Entry entry = DoseUnits.entry(value, productUnit, units);
		return entry.count().toPlainString().equals(amount) && entry.measure().name().equals(unit);
	}

}
