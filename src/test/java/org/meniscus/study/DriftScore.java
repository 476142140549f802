package org.meniscus.study;

import java.io.IOException;
import java.io.PrintStream;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.meniscus.tools.DriftBacktest;

/**
 * Scores the estimates that {@link DriftBacktest} writes against the exact truth of simulated pool-seasons:
 * {@code drift-score DIR ESTIMATES.csv [--by COLUMN] [--all-levels]}. {@code --by} repeats the table for each value of a column of
 * seasons.csv; {@code --all-levels} measures levels at every visit, not only at {@link TrueSeason#near}. What each figure counts and
 * leaves out: docs/benchmarks.md, "Season drift".
 */
public final class DriftScore {

	/** Exits and levels before this day of the season are not scored: the estimator has seen too little. */
	static final int FIRST_DAY = 28;

	/** Days within which the limit must be crossed for a flag to be true; a flag that stands longer is judged again. */
	static final int CROSSING_DAYS = 84;

	/** Levels are scored where low limit x first < true level < high limit x second. */
	private static final double NEAR_LOW = 0.6;

	private static final double NEAR_HIGH = 1.25;

	enum Side {

		LOW("lo"), HIGH("hi");

		private final String column;

		Side(String column) {
			this.column = column;
		}

		static @Nullable Side of(String text) {
			return switch (text) {
				case "" -> null;
				case "lo" -> LOW;
				case "hi" -> HIGH;
				default -> throw new IllegalArgumentException("not a flag: " + text);
			};
		}

	}

	/**
	 * What is true at a visit.
	 *
	 * @param in28Days level 28 days later if nobody takes corrective action, ppm
	 * @param crossings first day within {@link #CROSSING_DAYS} on which a limit is crossed, by side
	 * @param lastReading newest reading up to this visit, ppm; null before the first
	 */
	record TrueVisit(int day, double level, double in28Days, Map<Side, Integer> crossings, @Nullable Double lastReading) {
	}

	/** A true exit: first day beyond the limit that is still beyond it seven days later. */
	record Exit(Side side, int day) {
	}

	/** One level of one pool-season, limits in ppm. */
	record TrueSeason(String season, String analyte, double low, double high, List<TrueVisit> visits, List<Exit> exits) {

		double limit(Side side) {
			return (side == Side.LOW) ? this.low : this.high;
		}

		boolean beyond(Side side, double level) {
			return (side == Side.LOW) ? level < this.low : level > this.high;
		}

		boolean near(double level) {
			return NEAR_LOW * this.low < level && level < NEAR_HIGH * this.high;
		}

	}

	record Key(String season, int day, String analyte) {
	}

	/** An 80 % interval; {@code high} null where the exit may never come. */
	record Interval(double low, @Nullable Double high) {

		boolean covers(double value) {
			return this.low <= value && (this.high == null || value <= this.high);
		}

	}

	/** One line of the estimates file; what a method does not tell is null. */
	record Estimate(@Nullable Side flag, @Nullable Double level, @Nullable Interval level80, @Nullable Double in28Days,
			@Nullable Interval in28Days80, @Nullable Double exitDay, @Nullable Interval exit80) {

		static final Estimate NONE = new Estimate(null, null, null, null, null, null, null);

	}

	private DriftScore() {
	}

	public static void main(String[] args) {
		int status = run(args, System.out, System.err);
		if (status != 0) {
			System.exit(status);
		}
	}

	/** @return 0 when the estimates were scored, 2 when nothing could be done */
	static int run(String[] args, PrintStream out, PrintStream err) {
		List<String> files = new ArrayList<>(List.of(args));
		boolean allLevels = files.remove("--all-levels");
		int option = files.indexOf("--by");
		String column = null;
		if (option >= 0 && option + 1 < files.size()) {
			column = files.remove(option + 1);
			files.remove(option);
		}
		if (files.size() != 2) {
			err.println("drift-score: give a folder and a file: DIR ESTIMATES.csv [--by COLUMN] [--all-levels]");
			return 2;
		}
		try {
			Path folder = Path.of(files.get(0));
			List<CSVRecord> pools = rows(folder.resolve("seasons.csv"));
			List<TrueSeason> truth = truth(folder, pools);
			Map<Key, Estimate> estimates = estimates(Path.of(files.get(1)), truth);
			print(pools.size() + " pool-seasons", truth, estimates, allLevels, out);
			if (column != null) {
				Map<String, String> values = new HashMap<>();
				for (CSVRecord pool : pools) {
					values.put(pool.get("season"), pool.get(column));
				}
				for (String value : new TreeSet<>(values.values())) {
					List<TrueSeason> some = truth.stream().filter(season -> value.equals(values.get(season.season()))).toList();
					print(column + " = " + value + ": " + some.size() / 2 + " pool-seasons", some, estimates, allLevels, out);
				}
			}
			return 0;
		}
		catch (NoSuchFileException ex) {
			err.println("drift-score: no such file: " + ex.getFile());
		}
		catch (IOException | IllegalArgumentException ex) {
			err.println("drift-score: " + ex.getMessage());
		}
		return 2;
	}

	private static List<TrueSeason> truth(Path folder, List<CSVRecord> pools) throws IOException {
		Map<String, List<CSVRecord>> truth = bySeason(folder.resolve("truth.csv"));
		Map<String, List<CSVRecord>> visits = bySeason(folder.resolve("visits.csv"));
		Map<String, List<CSVRecord>> exits = bySeason(folder.resolve("exits.csv"));
		List<TrueSeason> seasons = new ArrayList<>();
		for (CSVRecord pool : pools) {
			String name = pool.get("season");
			for (String analyte : List.of("cya", "ch")) {
				List<Exit> left = exits.getOrDefault(name, List.of())
					.stream()
					.filter(row -> row.get("analyte").equals(analyte))
					.map(row -> new Exit(Side.of(row.get("side")), Integer.parseInt(row.get("day"))))
					.toList();
				seasons.add(new TrueSeason(name, analyte, Double.parseDouble(pool.get(analyte + "_lo")),
						Double.parseDouble(pool.get(analyte + "_hi")), visits(analyte, truth.get(name), visits.get(name)), left));
			}
		}
		return seasons;
	}

	private static List<TrueVisit> visits(String analyte, List<CSVRecord> truth, List<CSVRecord> readings) {
		List<TrueVisit> visits = new ArrayList<>();
		Double last = null;
		for (int n = 0; n < truth.size(); n++) {
			CSVRecord row = truth.get(n);
			CSVRecord read = readings.get(n);
			if (!row.get("day").equals(read.get("day"))) {
				throw new IllegalArgumentException("truth.csv and visits.csv differ in the days of " + row.get("season"));
			}
			Double tested = number(read, analyte);
			last = (tested != null) ? tested : last;
			Map<Side, Integer> crossings = new HashMap<>();
			for (Side side : Side.values()) {
				String day = row.get(analyte + "_exit_" + side.column);
				if (!day.isEmpty()) {
					crossings.put(side, Integer.valueOf(day));
				}
			}
			visits.add(new TrueVisit(Integer.parseInt(row.get("day")), Double.parseDouble(row.get(analyte)),
					Double.parseDouble(row.get(analyte + "_p28")), crossings, last));
		}
		return visits;
	}

	private static Map<Key, Estimate> estimates(Path file, List<TrueSeason> truth) throws IOException {
		Map<Key, Estimate> estimates = new HashMap<>();
		for (CSVRecord row : rows(file)) {
			Key key = new Key(row.get("season"), Integer.parseInt(row.get("day")), row.get("analyte"));
			Estimate estimate = new Estimate(Side.of(row.get("flag")), number(row, "level"), interval(row, "level", false),
					number(row, "p28"), interval(row, "p28", false), number(row, "exit_day"), interval(row, "exit", true));
			if (estimates.put(key, estimate) != null) {
				throw new IllegalArgumentException("two lines for " + key);
			}
		}
		TreeSet<String> unknown = new TreeSet<>();
		estimates.keySet().forEach(key -> unknown.add(key.toString()));
		for (TrueSeason season : truth) {
			season.visits().forEach(visit -> unknown.remove(new Key(season.season(), visit.day(), season.analyte()).toString()));
		}
		if (!unknown.isEmpty()) {
			throw new IllegalArgumentException(unknown.size() + " lines do not belong to a visit, first " + unknown.first());
		}
		return estimates;
	}

	private static @Nullable Interval interval(CSVRecord row, String column, boolean mayBeOpen) {
		Double low = number(row, column + "_lo80");
		Double high = number(row, column + "_hi80");
		return (low == null || (high == null && !mayBeOpen)) ? null : new Interval(low, high);
	}

	private static @Nullable Double number(CSVRecord row, String column) {
		String text = row.get(column);
		return text.isEmpty() ? null : Double.valueOf(text);
	}

	private static Map<String, List<CSVRecord>> bySeason(Path file) throws IOException {
		Map<String, List<CSVRecord>> rows = new HashMap<>();
		for (CSVRecord row : rows(file)) {
			rows.computeIfAbsent(row.get("season"), season -> new ArrayList<>()).add(row);
		}
		return rows;
	}

	private static List<CSVRecord> rows(Path file) throws IOException {
		try (CSVParser parser = CSVParser.parse(Files.readString(file, StandardCharsets.UTF_8),
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get())) {
			return parser.getRecords();
		}
	}

	private static void print(String title, List<TrueSeason> truth, Map<Key, Estimate> estimates, boolean allLevels, PrintStream out) {
		List<Map<String, Number>> columns = new ArrayList<>();
		columns.add(flags(truth, estimates).figures());
		for (String analyte : List.of("cya", "ch")) {
			List<TrueSeason> one = truth.stream().filter(season -> season.analyte().equals(analyte)).toList();
			Map<String, Number> figures = new LinkedHashMap<>(flags(one, estimates).figures());
			figures.putAll(levels(one, estimates, allLevels).figures());
			columns.add(figures);
		}
		out.println("## " + title);
		out.println(" ".repeat(40) + "     all     cya      ch");
		for (String measure : columns.get(1).keySet()) {
			StringBuilder line = new StringBuilder(measure).append(" ".repeat(40 - measure.length()));
			columns.forEach(figures -> line.append(' ').append(figures.containsKey(measure) ? cell(figures.get(measure)) : " ".repeat(7)));
			out.println(line);
		}
	}

	static DriftFlagTally flags(List<TrueSeason> truth, Map<Key, Estimate> estimates) {
		DriftFlagTally tally = new DriftFlagTally();
		truth.forEach(season -> tally.add(season, estimates));
		return tally;
	}

	static DriftLevelTally levels(List<TrueSeason> truth, Map<Key, Estimate> estimates, boolean allLevels) {
		DriftLevelTally tally = new DriftLevelTally(allLevels);
		truth.forEach(season -> tally.add(season, estimates));
		return tally;
	}

	/** NaN where there is nothing to divide by. */
	static double ratio(double sum, int count) {
		return (count == 0) ? Double.NaN : sum / count;
	}

	/** Median; a whole number where it is the middle one of whole numbers; NaN of none. */
	static Number median(List<? extends Number> values) {
		List<? extends Number> sorted = values.stream().sorted((a, b) -> Double.compare(a.doubleValue(), b.doubleValue())).toList();
		int half = sorted.size() / 2;
		if (sorted.isEmpty()) {
			return Double.NaN;
		}
		return (sorted.size() % 2 == 1) ? sorted.get(half) : (sorted.get(half - 1).doubleValue() + sorted.get(half).doubleValue()) / 2;
	}

	/** Counts as they are; three decimals below ten, one from there on, the exact binary value rounded half to even. */
	private static String cell(Number figure) {
		if (figure instanceof Integer count) {
			return String.format("%7d", count);
		}
		double value = figure.doubleValue();
		return Double.isNaN(value) ? "   n/a "
				: String.format("%7s",
						new BigDecimal(value).setScale((Math.abs(value) < 10) ? 3 : 1, RoundingMode.HALF_EVEN).toPlainString());
	}

}
