package org.meniscus.water.plan;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;

/** Rows of the trade tables in src/test/resources/trade; each row names its own basis and source. */
final class TradeTable {

	private TradeTable() {
	}

	static List<CSVRecord> rows(String name) {
		try (Reader reader = new InputStreamReader(
				Objects.requireNonNull(TradeTable.class.getResourceAsStream("/trade/" + name)), StandardCharsets.UTF_8)) {
			return CSVFormat.DEFAULT.builder().setHeader().setSkipHeaderRecord(true).get().parse(reader).getRecords();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
