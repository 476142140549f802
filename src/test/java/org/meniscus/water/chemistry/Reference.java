package org.meniscus.water.chemistry;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** The tables of src/test/resources/reference; each row carries its source. */
final class Reference {

	private Reference() {
	}

	static List<Map<String, String>> rows(String table) {
		Path file = Path.of("src/test/resources/reference", table + ".csv");
		try (CSVParser parser = CSVParser.parse(file, StandardCharsets.UTF_8,
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get())) {
			return parser.stream().map(CSVRecord::toMap).toList();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	static double number(Map<String, String> row, String column) {
		return Double.parseDouble(row.get(column));
	}

}
