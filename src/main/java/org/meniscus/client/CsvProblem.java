package org.meniscus.client;

import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Something in a file that cannot be taken, said so that it can be found and mended.
 *
 * @param line line of the file, from 1, in which the row begins; 0 when the file as a whole is meant
 * @param column header of the column, or null when the row as a whole is meant
 * @param code message key under {@code client.import.problem.*}
 * @param args for the message
 * @param cellText what stood there, shortened; empty when nothing stood there
 */
public record CsvProblem(int line, @Nullable String column, String code, List<String> args, String cellText) {

	private static final int MAX_SHOWN_LENGTH = 60;

	public CsvProblem {
		args = List.copyOf(args);
		cellText = (cellText.length() > MAX_SHOWN_LENGTH) ? cellText.substring(0, MAX_SHOWN_LENGTH) + "…" : cellText;
	}

	static CsvProblem ofFile(String code, String... args) {
		return new CsvProblem(0, null, code, List.of(args), "");
	}

}
