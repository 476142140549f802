package org.meniscus.tools;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonPool;
import org.meniscus.water.drift.SeasonRecord;
import org.meniscus.water.drift.SeasonVisit;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;

/**
 * A folder of pool seasons: {@code seasons.csv, visits.csv, doses.csv, events.csv, climate.csv}. Columns: docs/season.md.
 *
 * @param climates by name
 */
public record SeasonDataset(List<NamedSeason> seasons, Map<String, ClimateNormals> climates) {

	/**
	 * @param first the season's day 0, days since 1970-01-01; the year is any that is no leap year
	 */
	public record NamedSeason(String name, String climate, long first, SeasonRecord record) {
	}

	/** New Year of the first year. */
	private static final long FIRST_DAY_OF_YEAR = LocalDate.of(2025, 1, 1).toEpochDay();

	private static final String FOLDER_RANGES = "seasons.csv";

	/** @throws IOException when a file cannot be read @throws IllegalArgumentException naming file and line of what cannot be understood */
	public static SeasonDataset read(Path folder) throws IOException {
		Map<String, List<CSVRecord>> visits = bySeason(folder.resolve("visits.csv"));
		Map<String, List<CSVRecord>> doses = bySeason(folder.resolve("doses.csv"));
		Map<String, List<CSVRecord>> events = bySeason(folder.resolve("events.csv"));
		List<NamedSeason> seasons = new ArrayList<>();
		for (CSVRecord row : rows(folder.resolve("seasons.csv"))) {
			String name = row.get("season");
			seasons.add(parseRow("seasons.csv", row, () -> season(row, visits.getOrDefault(name, List.of()),
					doses.getOrDefault(name, List.of()), events.getOrDefault(name, List.of()))));
		}
		return new SeasonDataset(seasons, climates(folder.resolve("climate.csv")));
	}

	private static Map<String, ClimateNormals> climates(Path file) throws IOException {
		Map<String, ClimateNormals.Month[]> months = new LinkedHashMap<>();
		for (CSVRecord row : rows(file)) {
			parseRow("climate.csv", row,
					() -> months.computeIfAbsent(row.get("climate"),
							name -> new ClimateNormals.Month[12])[Integer.parseInt(row.get("month")) - 1] = new ClimateNormals.Month(
									number(row, "evap_mm_d"),
									number(row, "rain_mm_month"), number(row, "wet_days"), number(row, "water_temp_c")));
		}
		Map<String, ClimateNormals> climates = new HashMap<>();
		months.forEach((name, twelve) -> climates.put(name, new ClimateNormals(List.of(twelve))));
		return climates;
	}

	private static NamedSeason season(CSVRecord row, List<CSVRecord> visits, List<CSVRecord> doses, List<CSVRecord> events) {
		Map<Level, Double> fill = new EnumMap<>(Level.class);
		Double hardness = optional(row, "fill_ch");
		if (hardness != null) {
			fill.put(Level.CH, hardness);
		}
		Map<Level, Range> ranges = Map.of(Level.CYA, range(row, "cya"), Level.CH, range(row, "ch"));
		SeasonPool pool = new SeasonPool(optional(row, "volume_m3"), optional(row, "area_m2"), row.get("surface").equals("plaster"),
				row.get("new_plaster").equals("1"), row.get("autofill").equals("1"), row.get("filter").equals("sand"),
				row.get("cover").equals("1"), fill, ranges, null);
		long first = FIRST_DAY_OF_YEAR + Long.parseLong(row.get("start_doy")) - 1;
		TestPrecision cya = row.get("cya_method").equals("photo") ? TestPrecision.PHOTOMETER : TestPrecision.TURBIDITY_TUBE;
		TestPrecision ch = TestPrecision.titration(number(row, "ch_drop"));
		Map<Long, List<SeasonVisit.Dose>> dosesByDay = new HashMap<>();
		for (CSVRecord dose : doses) {
			parseRow("doses.csv", dose, () -> dosesByDay.computeIfAbsent(Long.parseLong(dose.get("day")), day -> new ArrayList<>())
				.add(dose(dose, pool.volume())));
		}
		Map<Long, Double> replaced = new HashMap<>();
		Map<Long, Boolean> washed = new HashMap<>();
		for (CSVRecord event : events) {
			long day = Long.parseLong(event.get("day"));
			if (event.get("event").equals("BACKWASH")) {
				washed.put(day, true);
			}
			else {
				parseRow("events.csv", event, () -> replaced.put(day, number(event, "value")));
			}
		}
		List<SeasonVisit> stops = new ArrayList<>();
		for (CSVRecord visit : visits) {
			stops.add(parseRow("visits.csv", visit, () -> {
				long day = Long.parseLong(visit.get("day"));
				Map<Level, SeasonVisit.Reading> readings = new EnumMap<>(Level.class);
				Double cyaRead = optional(visit, "cya");
				if (cyaRead != null) {
					readings.put(Level.CYA, new SeasonVisit.Reading(cyaRead, ReadingQualifier.ofSign(visit.get("cya_q")), cya));
				}
				Double chRead = optional(visit, "ch");
				if (chRead != null) {
					readings.put(Level.CH, new SeasonVisit.Reading(chRead, ReadingQualifier.EXACT, ch));
				}
				// of two visits on one day the first takes what was done
				List<SeasonVisit.Dose> put = dosesByDay.remove(day);
				Double drained = replaced.remove(day);
				return new SeasonVisit(first + day, visit.get("tech"), readings, (put != null) ? put : List.of(),
						washed.remove(day) != null, (drained != null) ? drained : 0);
			}));
		}
		return new NamedSeason(row.get("season"), row.get("climate"), first, new SeasonRecord(pool, stops, TechnicianBias.NONE));
	}

	private static SeasonVisit.Dose dose(CSVRecord dose, @Nullable Double volume) {
		DoseKind kind = switch (dose.get("product")) {
			case "TRICHLOR" -> DoseKind.TABLETS;
			case "DICHLOR" -> DoseKind.DICHLOR;
			case "CALHYPO" -> DoseKind.CALCIUM_HYPOCHLORITE;
			case "CYA" -> DoseKind.STABILIZER;
			case "CACL2" -> DoseKind.CALCIUM_CHLORIDE;
			default -> DoseKind.OTHER;
		};
		Double strength = optional(dose, "fraction");
		Double cya = optional(dose, "cya_ppm");
		Double ch = optional(dose, "ch_ppm");
		Map<Level, Double> change = (strength != null && cya != null && ch != null) ? Map.of(Level.CYA, cya, Level.CH, ch) : null;
		double chlorine = (kind.routine() && strength != null && volume != null) ? number(dose, "grams") * strength / volume : 0;
		Double days = optional(dose, "spread_days");
		return new SeasonVisit.Dose(kind, chlorine, change, (days != null) ? (int) Math.round(days) : 0);
	}

	private static Range range(CSVRecord row, String level) {
		double low = number(row, level + "_lo");
		double high = number(row, level + "_hi");
		return new Range(low, low, high, high, FOLDER_RANGES);
	}

	private static Map<String, List<CSVRecord>> bySeason(Path file) throws IOException {
		Map<String, List<CSVRecord>> rows = new HashMap<>();
		for (CSVRecord row : rows(file)) {
			rows.computeIfAbsent(row.get("season"), season -> new ArrayList<>()).add(row);
		}
		return rows;
	}

	private static List<CSVRecord> rows(Path file) throws IOException {
		try (CSVParser parser = CSVParser.parse(Files.readString(file, StandardCharsets.UTF_8).replaceFirst("^\ufeff", ""),
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).setIgnoreEmptyLines(true).setTrim(true).get())) {
			return parser.getRecords();
		}
	}

	private static double number(CSVRecord row, String column) {
		Double value = optional(row, column);
		if (value == null) {
			throw new IllegalArgumentException(column + " is empty");
		}
		return value;
	}

	private static @Nullable Double optional(CSVRecord row, String column) {
		String text = row.get(column);
		if (text.isBlank()) {
			return null;
		}
		try {
			return Double.valueOf(text);
		}
		catch (NumberFormatException ex) {
			throw new IllegalArgumentException(column + " is not a number: " + text);
		}
	}

	private static <T> T parseRow(String file, CSVRecord row, java.util.function.Supplier<T> reading) {
		try {
			return reading.get();
		}
		catch (IllegalArgumentException ex) {
			if (ex.getMessage() != null && ex.getMessage().startsWith("in ")) {
				throw ex;
			}
			throw new IllegalArgumentException("in " + file + " line " + (row.getRecordNumber() + 1) + ": " + ex.getMessage(), ex);
		}
	}

}
