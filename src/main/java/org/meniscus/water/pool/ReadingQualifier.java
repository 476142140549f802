package org.meniscus.water.pool;

import org.jspecify.annotations.Nullable;

/** How a reading stands to the true value. "Less than 30" is an interval, not the number 30. */
public enum ReadingQualifier {

	/** The test showed this value. */
	EXACT(""),
	/** At or below the lowest mark of the test. */
	BELOW("<"),
	/** At or above the highest mark of the test. */
	ABOVE(">");

	private final String sign;

	ReadingQualifier(String sign) {
		this.sign = sign;
	}

	/** Empty, "&lt;" or "&gt;": as it is typed, shown and stored. */
	public String sign() {
		return this.sign;
	}

	/** @throws IllegalArgumentException for anything but null, empty, "&lt;" and "&gt;" */
	public static ReadingQualifier ofSign(@Nullable String sign) {
		if (sign == null || sign.isEmpty()) {
			return EXACT;
		}
		for (ReadingQualifier qualifier : values()) {
			if (qualifier.sign.equals(sign)) {
				return qualifier;
			}
		}
		throw new IllegalArgumentException("not a mark: " + sign);
	}

}
