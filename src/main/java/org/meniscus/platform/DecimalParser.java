package org.meniscus.platform;

import java.math.BigDecimal;
import java.util.regex.Pattern;

/** Decimals as people write them. */
public final class DecimalParser {

	private static final Pattern DECIMAL_POINT = Pattern.compile("-?\\d{1,12}([.]\\d{1,6})?");

	/** Three digits after a comma are left out: they may be thousands. */
	private static final Pattern DECIMAL_COMMA = Pattern.compile("-?\\d{1,12},(\\d{1,2}|\\d{4,6})");

	private DecimalParser() {
	}

	/**
	 * "7.4" and "7,4" are the same number; "1,200" is refused because it could be meant either way.
	 *
	 * @throws NumberFormatException when it is not a number, or not one that reads the same to everybody
	 */
	public static BigDecimal parse(String text) {
		String entered = text.strip();
		if (DECIMAL_POINT.matcher(entered).matches() || DECIMAL_COMMA.matcher(entered).matches()) {
			return new BigDecimal(entered.replace(',', '.'));
		}
		throw new NumberFormatException("not a number: " + entered);
	}

}
