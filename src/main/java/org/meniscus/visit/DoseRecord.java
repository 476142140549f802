package org.meniscus.visit;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.meniscus.product.ProductId;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.AmountUnit;

/**
 * What was really put in, with the product as it was on that day.
 *
 * @param strength fraction in (0, 1], null when it was not known
 * @param amount grams or millilitres, above zero
 * @param plannedAmount what the plan had said, null when it had not named this product
 * @param costCents minor units at that day's price, null when there was no price
 */
public record DoseRecord(int seq, ProductId product, String productName, ProductKind kind, @Nullable Double strength,
		@Nullable StrengthBasis basis, double amount, AmountUnit unit, @Nullable Double plannedAmount, LocalDate dosedOn,
		@Nullable Long costCents) {

	public RecordedDose recorded() {
		return new RecordedDose(this.kind, this.strength, this.basis, this.amount);
	}

}
