package org.meniscus.visit.web;

import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.meniscus.visit.Advice;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;

/**
 * One line of "what went in", as typed.
 *
 * @param planned grams or millilitres that the plan had said, "label" when it left the amount to the label, empty when it said nothing
 */
record DoseForm(String product, String amount, String unit, String planned) {

	static final int MAX_DOSES = 30;

	private static final String AS_LABELLED = "label";

	static DoseForm blank() {
		return new DoseForm("", "", "", "");
	}

	/** As the plan says; without an amount where the label gives it. */
	static DoseForm of(Advice.AdviceStep step, List<Product> products, UnitSystem units) {
		DoseUnits in = DoseUnits.of(step.productId(), step.unit(), products, units);
		Double amount = step.amount();
		if (amount == null) {
			return new DoseForm(step.productId(), "", in.all().get(0).name(), AS_LABELLED);
		}
		return of(step.productId(), in.quantity(amount), amount);
	}

	static DoseForm of(DoseRecord dose, List<Product> products, UnitSystem units) {
		return of(dose.product().toString(), DoseUnits.of(dose, products, units).quantity(dose.amount()), dose.plannedAmount());
	}

	private static DoseForm of(String product, DoseUnits.DoseQuantity entry, @Nullable Double planned) {
		return new DoseForm(product, entry.count().toPlainString(), entry.unit().name(),
				(planned != null) ? String.format(Locale.ROOT, "%.4f", planned) : "");
	}

	/** Nothing chosen and nothing written. */
	boolean isBlank() {
		return product.isEmpty() && amount.isEmpty();
	}

	@Nullable
	Double plannedAmount() {
		try {
			double value = planned.isEmpty() ? 0 : Double.parseDouble(planned);
			return (value > 0 && value < 1e9) ? Double.valueOf(value) : null;
		}
		catch (NumberFormatException ex) {
			return null;
		}
	}

	/** Stands as the plan filled it in. */
	boolean asPlanned(Product named, UnitSystem units) {
		Double value = plannedAmount();
		if (value == null) {
			return false;
		}
		DoseUnits.DoseQuantity entry = DoseUnits.of(named, units).quantity(value);
		return entry.count().toPlainString().equals(amount) && entry.unit().name().equals(unit);
	}

}
