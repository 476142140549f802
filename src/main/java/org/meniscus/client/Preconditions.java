package org.meniscus.client;

import org.jspecify.annotations.Nullable;

/** What a record of this feature refuses; pages and imports have asked before, so this is the last guard. */
final class Preconditions {

	private Preconditions() {
	}

	static void checkLength(String what, @Nullable String text, int least, int most) {
		int length = (text != null) ? text.length() : 0;
		if (length < least || length > most) {
			throw new IllegalArgumentException(what + " has " + length + " characters, not " + least + " to " + most);
		}
	}

	/** Both ends are inside; null is inside. */
	static void checkRange(String what, @Nullable Double value, double least, double most) {
		if (value != null && !(value >= least && value <= most)) {
			throw new IllegalArgumentException(what + " is " + value + ", not " + least + " to " + most);
		}
	}

}
