package org.meniscus.water.pool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Objects;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;

/** The targets that a pool begins with, against src/test/resources/reference/ranges.csv, each row of which names its source. */
class TargetsTests {

	private static final String RESIDENTIAL = "residential practice in the US";

	@Test
	void defaultTargetsAreThePublishedRanges() throws IOException {
		int compared = 0;
		try (CSVParser rows = CSVParser.parse(Path.of("src/test/resources/reference/ranges.csv"), StandardCharsets.UTF_8,
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get())) {
			for (CSVRecord row : rows) {
				boolean spaHardness = row.get("pool_type").equals("public spa") && row.get("parameter").equals("CH");
				if (!row.get("jurisdiction").equals(RESIDENTIAL) && !spaHardness) {
					continue;
				}
				Level level = Level.valueOf(row.get("parameter").toUpperCase(Locale.ROOT));
				Range range = Objects.requireNonNull(targets(row.get("pool_type")).range(level), row.toString());
				double unit = (level == Level.PHOSPHATE) ? 1000 : 1;
				// a pool is not short of what is only added by choice
				if (!row.get("pool_type").endsWith("optional")) {
					compared += same(range.acceptableLow(), row.get("minimum"), unit, row);
					compared += same(range.idealLow(), row.get("ideal_low"), unit, row);
				}
				compared += same(range.idealHigh(), row.get("ideal_high"), unit, row);
				compared += same(range.acceptableHigh(), row.get("maximum"), unit, row);
			}
		}
		assertThat(compared).as("limits compared").isGreaterThan(45);
	}

	private static int same(double limit, String published, double unit, CSVRecord row) {
		if (!published.matches("[0-9.]+")) {
			return 0;
		}
		assertThat(limit).as(row.toString()).isCloseTo(unit * Double.parseDouble(published), within(1e-9));
		return 1;
	}

	private static Targets targets(String poolType) {
		return switch (poolType) {
			case "residential pool", "residential pool, optional", "plaster pool", "outdoor pool", "non-salt pool" ->
				Targets.defaults(BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.CHLORINE_BY_HAND);
			case "vinyl or fibreglass pool" -> Targets.defaults(BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.CHLORINE_BY_HAND);
			case "outdoor salt-generator pool", "salt-generator pool" ->
				Targets.defaults(BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
			case "public spa" -> Targets.defaults(BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);
			default -> throw new AssertionError("of what pool is the range? " + poolType);
		};
	}

	/**
	 * Rows stain_iron and stain_copper of situations.csv: iron or copper above 0.3 ppm; typical at most 0.1 and 0.2 (reading-bounds.csv);
	 * 40 CFR 143.3: manganese 0.05.
	 */
	@Test
	void metalsStainAboveTheFigureOfTheTrade() {
		Targets targets = Targets.defaults(BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.CHLORINE_BY_HAND);
		assertThat(targets.range(Level.COPPER)).isNotNull().extracting(Range::idealHigh, Range::acceptableHigh).containsExactly(0.2, 0.3);
		assertThat(targets.range(Level.IRON)).isNotNull().extracting(Range::idealHigh, Range::acceptableHigh).containsExactly(0.1, 0.3);
		assertThat(targets.range(Level.MANGANESE)).isNotNull().extracting(Range::idealHigh, Range::acceptableHigh)
			.containsExactly(0.05, 0.05);
		assertThat(Targets.defaults(BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.BROMINE).range(Level.AMMONIA)).isNull();
	}

	/** No CYA indoors: Texas 25 TAC 265.193(d). */
	@Test
	void indoorPoolsAreKeptWithoutStabilizer() {
		Range cya = Targets.defaults(BodyOfWater.POOL, Surface.PLASTER, true, Sanitizer.CHLORINE_BY_HAND).range(Level.CYA);
		assertThat(cya).isNotNull().extracting(Range::idealHigh, Range::acceptableHigh).containsExactly(0.0, 0.0);
	}

}
