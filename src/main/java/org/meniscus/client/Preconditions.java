package org.meniscus.client;

import org.jspecify.annotations.Nullable;

/** What a record of this feature refuses; pages and imports have asked before, so this is the last guard. */
final class Preconditions {

	private Preconditions() {
	}

	static void checkLength(String what, @Nullable String text, int min, int max) {
		int length = (text != null) ? text.length() : 0;
		if (length < min || length > max) {
			throw new IllegalArgumentException(what + " has " + length + " characters, not " + min + " to " + max);
		}
	}

	/** Both ends are inside; null is inside. */
	static void checkRange(String what, @Nullable Double value, double min, double max) {
		if (value != null && !(value >= min && value <= max)) {
			throw new IllegalArgumentException(what + " is " + value + ", not " + min + " to " + max);
		}
	}

}
