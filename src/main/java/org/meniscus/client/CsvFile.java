package org.meniscus.client;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Currency;
import java.util.EnumMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * A file of clients and pools as it was read: RFC 4180 with commas or semicolons, UTF-8 with or without byte order mark.
 *
 * @param problems what is wrong with the file as a whole; when there is any, there are no rows
 * @param unknownHeaders headers that mean nothing here; their columns are left out
 * @param semicolonSeparated whether its cells stand apart by semicolons
 */
record CsvFile(List<CsvRow> rows, List<CsvProblem> problems, List<String> unknownHeaders, boolean semicolonSeparated) {

	/** Bytes. */
	static final int SIZE_MAX = 1024 * 1024;

	static final int ROWS_MAX = 2000;

	private static final int MAX_SHOWN_LENGTH = 80;

	/** The text of a file, or what is wrong with it. */
	record DecodedText(String content, List<CsvProblem> problems) {
	}

	CsvFile {
		rows = List.copyOf(rows);
		problems = List.copyOf(problems);
		unknownHeaders = List.copyOf(unknownHeaders);
	}

	/** Text of the bytes without the byte order mark. */
	static DecodedText decode(byte[] bytes) {
		if (bytes.length == 0) {
			return undecodable(CsvProblem.ofFile("empty"));
		}
		if (bytes.length > SIZE_MAX) {
			return undecodable(CsvProblem.ofFile("tooBig"));
		}
		CharsetDecoder decoder = StandardCharsets.UTF_8.newDecoder()
			.onMalformedInput(CodingErrorAction.REPORT)
			.onUnmappableCharacter(CodingErrorAction.REPORT);
		CharBuffer characters = CharBuffer.allocate(bytes.length);
		CoderResult result = decoder.decode(ByteBuffer.wrap(bytes), characters, true);
		characters.flip();
		String content = characters.toString();
		if (result.isError()) {
			return undecodable(CsvProblem.ofFile("notUtf8", String.valueOf(1 + content.chars().filter(c -> c == '\n').count())));
		}
		if (content.indexOf('\0') >= 0) {
			return undecodable(CsvProblem.ofFile("binary"));
		}
		content = content.startsWith("\uFEFF") ? content.substring(1) : content;
		return content.isBlank() ? undecodable(CsvProblem.ofFile("empty")) : new DecodedText(content, List.of());
	}

	static CsvFile parse(String content, Currency currency) {
		char delimiter = delimiter(content);
		CSVFormat format = CSVFormat.RFC4180.builder().setDelimiter(delimiter).setIgnoreEmptyLines(false).get();
		int[] line = { 1 };
		try (CSVParser parser = CSVParser.builder().setReader(new StringReader(content)).setFormat(format).get()) {
			return rows(parser, currency, line, delimiter == ';');
		}
		catch (UncheckedIOException | IOException | IllegalStateException ex) {
			// what the parser says is for programmers; what can be mended is the quote
			return unreadable(CsvProblem.ofFile("quotes", String.valueOf(line[0])));
		}
	}

	private static CsvFile rows(CSVParser parser, Currency currency, int[] line, boolean semicolons) {
		Iterator<CSVRecord> records = parser.iterator();
		if (!records.hasNext()) {
			return unreadable(CsvProblem.ofFile("empty"));
		}
		CSVRecord header = records.next();
		Map<CsvColumn, CsvRowParser.ColumnPosition> columns = new EnumMap<>(CsvColumn.class);
		List<CsvProblem> problems = new ArrayList<>();
		List<String> unknown = new ArrayList<>();
		for (int i = 0; i < header.size(); i++) {
			String name = header.get(i).strip();
			CsvColumn.ColumnInUnits found = CsvColumn.findByHeader(name).orElse(null);
			if (found == null) {
				if (!name.isEmpty()) {
					unknown.add(shortened(name));
				}
			}
			else if (columns.putIfAbsent(found.column(), new CsvRowParser.ColumnPosition(i, found.units(), name)) != null) {
				problems.add(new CsvProblem(1, shortened(name), "columnTwice", List.of(), ""));
			}
		}
		if (!columns.containsKey(CsvColumn.CLIENT)) {
			problems.add(new CsvProblem(1, "client", "noClientColumn", List.of(), shortened(String.join(", ", header.toList()))));
		}
		if (!problems.isEmpty()) {
			return new CsvFile(List.of(), problems, unknown, semicolons);
		}
		List<CsvRow> rows = new ArrayList<>();
		while (true) {
			line[0] = (int) parser.getCurrentLineNumber() + 1;
			if (!records.hasNext()) {
				break;
			}
			CSVRecord record = records.next();
			if (record.size() == 1 && record.get(0).isBlank()) {
				continue;
			}
			if (rows.size() == ROWS_MAX) {
				return unreadable(CsvProblem.ofFile("tooLong", String.valueOf(ROWS_MAX)));
			}
			rows.add(new CsvRowParser(line[0], record, header.size(), columns, currency).parse());
		}
		if (rows.isEmpty()) {
			return new CsvFile(List.of(), List.of(CsvProblem.ofFile("noRows")), unknown, semicolons);
		}
		return new CsvFile(rows, List.of(), unknown, semicolons);
	}

	/** Whichever of comma and semicolon makes more known headers out of the first line. */
	private static char delimiter(String content) {
		int end = content.indexOf('\n');
		String first = (end < 0) ? content : content.substring(0, end);
		return (countKnownHeaders(first, ";") > countKnownHeaders(first, ",")) ? ';' : ',';
	}

	private static long countKnownHeaders(String header, String delimiter) {
		long known = 0;
		for (String name : header.split(delimiter)) {
			if (CsvColumn.findByHeader(name.replace("\"", "")).isPresent()) {
				known++;
			}
		}
		return known;
	}

	private static String shortened(String text) {
		return (text.length() > MAX_SHOWN_LENGTH) ? text.substring(0, MAX_SHOWN_LENGTH) + "…" : text;
	}

	private static CsvFile unreadable(CsvProblem problem) {
		return new CsvFile(List.of(), List.of(problem), List.of(), false);
	}

	private static DecodedText undecodable(CsvProblem problem) {
		return new DecodedText("", List.of(problem));
	}

}
