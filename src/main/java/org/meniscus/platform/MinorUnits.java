package org.meniscus.platform;

import java.math.BigDecimal;
import java.util.Locale;

import org.jspecify.annotations.Nullable;

/** Money as it is typed, counted in minor units of its currency, such as cents. */
public final class MinorUnits {

	/** Why an amount cannot be taken. */
	public enum Fault {

		/** More decimals than the currency has. */
		DECIMALS,
		/** Negative, or more than is plausible. */
		RANGE

	}

	private MinorUnits() {
	}

	/**
	 * @param digits decimals of the currency
	 * @param max highest amount in minor units, allowed
	 * @return null when the amount can be taken
	 */
	public static @Nullable Fault fault(BigDecimal money, int digits, int max) {
		BigDecimal amount = money.movePointRight(digits);
		if (amount.stripTrailingZeros().scale() > 0) {
			return Fault.DECIMALS;
		}
		return (amount.signum() < 0 || amount.compareTo(BigDecimal.valueOf(max)) > 0) ? Fault.RANGE : null;
	}

	/** @throws ArithmeticException when {@link #fault} found one */
	public static int of(BigDecimal money, int digits) {
		return money.movePointRight(digits).intValueExact();
	}

	/** The highest amount as a message prints it: whole units with thousands set apart. */
	public static String formatMax(int digits, int max) {
		return String.format(Locale.US, "%,d", BigDecimal.valueOf(max, digits).toBigInteger());
	}

}
