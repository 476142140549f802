package org.meniscus.client;

import org.jspecify.annotations.Nullable;

/** Text as it is kept: no control characters, line ends as line feeds, no blanks around it. */
final class TextNormalizer {

	private TextNormalizer() {
	}

	/** One line, or empty. */
	static String line(@Nullable String text) {
		return clean(text).replace('\n', ' ').replace('\t', ' ').strip();
	}

	/** Several lines, or null when there is nothing to keep. */
	static @Nullable String block(@Nullable String text) {
		String clean = clean(text).strip();
		return clean.isEmpty() ? null : clean;
	}

	/** One line, or null when there is nothing to keep. */
	static @Nullable String lineOrNull(@Nullable String text) {
		String line = line(text);
		return line.isEmpty() ? null : line;
	}

	private static String clean(@Nullable String text) {
		if (text == null) {
			return "";
		}
		StringBuilder kept = new StringBuilder(text.length());
		text.replace("\r\n", "\n").replace('\r', '\n').codePoints().forEach(point -> {
			if (point == '\n' || point == '\t' || !Character.isISOControl(point)) {
				kept.appendCodePoint(point);
			}
		});
		return kept.toString();
	}

}
