package org.meniscus.platform.web;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.MinorUnits;
import org.springframework.validation.Errors;

/** A field of a form that holds money. */
public final class MoneyField {

	private MoneyField() {
	}

	/**
	 * @param digits decimals of the currency
	 * @param max highest amount in minor units, allowed
	 * @return minor units; null when absent, or refused with a message beside the field
	 */
	public static @Nullable Integer parse(String field, @Nullable BigDecimal money, int digits, int max, Errors errors) {
		if (money == null) {
			return null;
		}
		MinorUnits.Fault fault = MinorUnits.fault(money, digits, max);
		if (fault == MinorUnits.Fault.DECIMALS) {
			errors.rejectValue(field, "field.decimals", new Object[]{ digits }, "Decimals.");
			return null;
		}
		if (fault == MinorUnits.Fault.RANGE) {
			errors.rejectValue(field, "field.range", new Object[]{ "0", MinorUnits.formatMax(digits, max) }, "Out of range.");
			return null;
		}
		return MinorUnits.of(money, digits);
	}

}
