package org.meniscus.client;

import org.jspecify.annotations.Nullable;

/** Text as it is kept: no control characters, line ends as line feeds, no blanks around it. */
final class TextNormalizer {

	private TextNormalizer() {
	}

	/** One line, or empty. */
	static String singleLine(@Nullable String text) {
		return withoutControls(text).replace('\n', ' ').replace('\t', ' ').strip();
	}

	/** Several lines, or null when there is nothing to keep. */
	static @Nullable String multiLineOrNull(@Nullable String text) {
		String clean = withoutControls(text).strip();
		return clean.isEmpty() ? null : clean;
	}

	/** One line, or null when there is nothing to keep. */
	static @Nullable String singleLineOrNull(@Nullable String text) {
		String line = singleLine(text);
		return line.isEmpty() ? null : line;
	}

	private static String withoutControls(@Nullable String text) {
		if (text == null) {
			return "";
		}
		StringBuilder result = new StringBuilder(text.length());
		text.replace("\r\n", "\n").replace('\r', '\n').codePoints().forEach(point -> {
			if (point == '\n' || point == '\t' || !Character.isISOControl(point)) {
				result.appendCodePoint(point);
			}
		});
		return result.toString();
	}

}
