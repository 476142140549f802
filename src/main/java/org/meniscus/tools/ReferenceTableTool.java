package org.meniscus.tools;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/**
 * Fills a table of waters with the engine's answers: {@code waters IN.csv OUT.csv}. The kind of table follows from its columns; see
 * docs/water-chemistry.md. Answer columns that are missing are added at the end, other columns are left as they are.
 */
public final class ReferenceTableTool {

	private ReferenceTableTool() {
	}

	public static void main(String[] args) {
		int status = run(args, System.out, System.err);
		if (status != 0) {
			System.exit(status);
		}
	}

	/** @return 0 when every row was answered, 1 when some rows were not, 2 when nothing could be done */
	static int run(String[] args, PrintStream out, PrintStream err) {
		if (args.length != 2) {
			err.println("waters: give two files: IN.csv OUT.csv");
			return 2;
		}
		try {
			return fill(Path.of(args[0]), Path.of(args[1]), out, err);
		}
		catch (NoSuchFileException ex) {
			err.println("waters: no such file: " + ex.getFile());
		}
		catch (IOException | IllegalArgumentException ex) {
			err.println("waters: " + ex.getMessage());
		}
		return 2;
	}

	private static int fill(Path in, Path target, PrintStream out, PrintStream err) throws IOException {
		List<Map<String, String>> rows = new ArrayList<>();
		Set<String> columns = new LinkedHashSet<>();
		try (CSVParser parser = CSVParser.parse(Files.readString(in, StandardCharsets.UTF_8).replaceFirst("^\ufeff", ""),
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).setIgnoreEmptyLines(true).setTrim(true).get())) {
			columns.addAll(parser.getHeaderNames());
			for (CSVRecord line : parser) {
				Map<String, String> row = new LinkedHashMap<>();
				columns.forEach(column -> row.put(column, line.isSet(column) ? line.get(column) : ""));
				rows.add(row);
			}
		}
		ReferenceTable table = ReferenceTable.ofColumns(columns);
		columns.addAll(table.resultColumns());
		int refused = 0;
		for (int n = 0; n < rows.size(); n++) {
			Map<String, String> row = rows.get(n);
			table.resultColumns().forEach(answer -> row.put(answer, ""));
			try {
				row.putAll(table.compute(row));
			}
			catch (IllegalArgumentException ex) {
				refused++;
				err.println("waters: " + in + " row " + (n + 2) + ": " + ex.getMessage());
			}
		}
		try (CSVPrinter printer = new CSVPrinter(Files.newBufferedWriter(target, StandardCharsets.UTF_8),
				CSVFormat.RFC4180.builder().setHeader(columns.toArray(String[]::new)).setRecordSeparator("\n").get())) {
			for (Map<String, String> row : rows) {
				printer.printRecord(columns.stream().map(column -> row.getOrDefault(column, "")).toList());
			}
		}
		out.println(table.tableName() + ": " + (rows.size() - refused) + " of " + rows.size() + " rows answered");
		return (refused == 0) ? 0 : 1;
	}

}
