package org.meniscus.water.demand;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.TreeSet;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.TheilSenLine;

/**
 * Total alkalinity today and its drift, from readings net of what is on record: every reading is carried to today by the doses and water
 * replacements after it, and a {@link TheilSenLine} goes through the carried readings. It presumes that what is not on record has gone on
 * at an even rate, and that recorded doses go on as in the last weeks. All intervals are 80 %. "Judgement" marks a figure without source.
 *
 * @param today ppm
 * @param drift null when readings are too few or too close together
 * @param readings how many were used
 * @param course estimate day by day since the first of these readings, for drawing
 */
public record AlkalinityTrend(Band today, @Nullable Drift drift, int readings, List<DatedBand> course) {

	/** Fewer readings, or a shorter time, say nothing about a drift. Judgement. */
	public static final int MIN_READINGS = 4;

	private static final int MIN_DAYS = 28;

	/** Older readings belong to another part of the season. Judgement. */
	private static final int MAX_READINGS = 16;

	private static final int MAX_DAYS = 182;

	/** The newest readings, whose median is the level. Judgement. */
	private static final int LEVEL_READINGS = 5;

	/** Time over which recorded doses are averaged into a weekly rate. Judgement. */
	private static final int DOSE_DAYS = 56;

	/** Share of the water; after a larger replacement older readings say nothing. Judgement. */
	public static final double FULL_REPLACEMENT = 0.95;

	/** Standard deviation of the unrecorded drift, share of the level a week: before any reading, and of its change afterwards. Judgement. */
	private static final double UNKNOWN_DRIFT = 0.02, CHANGE_OF_DRIFT = 0.007;

	/** Standard deviation of a normal variable over its median absolute deviation, and of the median of many over that of their mean. */
	private static final double SD_OVER_MAD = 1.4826, MEDIAN_OVER_MEAN = 1.2533;

	public AlkalinityTrend {
		course = List.copyOf(course);
	}

	/** @param day days since 1970-01-01 */
	public record Reading(long day, double ppm) {
	}

	/**
	 * Something on record that moves the level after the test of its day, to {@code retained × level + added}.
	 *
	 * @param product null for a water replacement
	 */
	public record Change(long day, double retained, double added, @Nullable String product) {

		/** @param ppm by how much the level of the whole pool rises, negative for acid */
		public static Change dose(long day, String product, double ppm) {
			return new Change(day, 1, ppm, product);
		}

		/** @param share of the water, above 0 to 1 */
		public static Change replacement(long day, double share, double fillPpm) {
			return new Change(day, 1 - share, share * fillPpm, null);
		}

		boolean forgetsReadings() {
			return retained < 1 - FULL_REPLACEMENT;
		}

	}

	/**
	 * Change per week, ppm.
	 *
	 * @param byProduct recorded doses, in the mean of the last weeks
	 * @param unrecorded fill water, rain, splash-out, acid nobody wrote down
	 */
	public record Drift(Map<String, Double> byProduct, Band unrecorded) {

		public Drift {
			byProduct = Map.copyOf(byProduct);
		}

		public double perWeek() {
			return recorded() + unrecorded.middle();
		}

		/** Whether the readings settle which way the level goes. */
		public boolean signKnown() {
			return recorded() + unrecorded.low() > 0 || recorded() + unrecorded.high() < 0;
		}

		private double recorded() {
			return new TreeMap<>(byProduct).values().stream().mapToDouble(Double::doubleValue).sum();
		}

	}

	/**
	 * Leaving the acceptable range at the present drift.
	 *
	 * @param earliest,latest 80 % interval of the day; latest null when it may well not happen before the last day looked at
	 */
	public record Exit(long day, long earliest, @Nullable Long latest, double limit, boolean rising) {
	}

	/** @return empty when nothing was read in the last half year or since all the water was replaced */
	public static Optional<AlkalinityTrend> of(List<Reading> readings, List<Change> changes, long today) {
		List<Change> inOrder = changes.stream()
			.filter(change -> change.day() <= today)
			// water goes out before products go in
			.sorted(Comparator.comparingLong(Change::day).thenComparingDouble(Change::retained).thenComparingDouble(Change::added))
			.toList();
		long from = inOrder.stream().filter(Change::forgetsReadings).mapToLong(change -> change.day() + 1).max().orElse(Long.MIN_VALUE);
		List<Reading> usable = readings.stream()
			.filter(reading -> reading.day() >= Math.max(from, today - MAX_DAYS) && reading.day() <= today)
			.sorted(Comparator.comparingLong(Reading::day).thenComparingDouble(Reading::ppm))
			.toList();
		return usable.isEmpty() ? Optional.empty()
				: Optional.of(fit(usable.subList(Math.max(0, usable.size() - MAX_READINGS), usable.size()), inOrder, today));
	}

	private static AlkalinityTrend fit(List<Reading> readings, List<Change> changes, long today) {
		int n = readings.size();
		long first = readings.get(0).day();
		double[] carried = new double[n];
		double[] age = new double[n];
		for (int i = 0; i < n; i++) {
			carried[i] = carry(readings.get(i).ppm(), 0, changes, readings.get(i).day(), today);
			// by how much an unrecorded ppm a day has moved it since, less where water was replaced
			age[i] = carry(0, 1, onlyRetained(changes), readings.get(i).day(), today);
		}
		TheilSenLine line = (n >= MIN_READINGS && readings.get(n - 1).day() - first >= MIN_DAYS)
				? TheilSenLine.through(Arrays.stream(age).map(days -> -days).toArray(), carried) : null;
		if (line != null && Double.isInfinite(line.high())) {
			line = null;
		}
		double slope = (line != null) ? line.slope() : 0;
		double[] now = new double[n];
		for (int i = 0; i < n; i++) {
			now[i] = carried[i] + slope * age[i];
		}
		int from = Math.max(0, n - LEVEL_READINGS);
		double middle = Math.max(0, TheilSenLine.median(Arrays.copyOfRange(now, from, n)));
		double slopeError = (line != null) ? (line.high() - line.low()) / (2 * NormalDistribution.Z80) : 0;
		double driftError = Math.hypot(slopeError, middle * ((line != null) ? CHANGE_OF_DRIFT : UNKNOWN_DRIFT) / 7);
		double ownError = ((n - from > 2) ? MEDIAN_OVER_MEAN : 1) * readingError(now, middle) / Math.sqrt(n - from);
		double meanAge = Arrays.stream(age, from, n).average().orElseThrow();
		double half = NormalDistribution.Z80 * Math.hypot(ownError, meanAge * driftError);
		Band level = new Band(Math.max(0, middle - half), middle, middle + half);
		double driftHalf = NormalDistribution.Z80 * 7 * driftError;
		Drift drift = (line != null) ? new Drift(recordedPerWeek(changes, Math.max(today - DOSE_DAYS, first), today),
				new Band(7 * slope - driftHalf, 7 * slope, 7 * slope + driftHalf)) : null;
		return new AlkalinityTrend(level, drift, n, course(middle, slope, changes, first, today));
	}

	/** A level carried from the test of one day to the evening of another, rising by {@code rate} a day beside what is on record. */
	private static double carry(double level, double rate, List<Change> changes, long from, long to) {
		long day = from;
		for (Change change : changes) {
			if (change.day() >= from && change.day() <= to) {
				level = change.retained() * (level + rate * (change.day() - day)) + change.added();
				day = change.day();
			}
		}
		return level + rate * (to - day);
	}

	private static List<Change> onlyRetained(List<Change> changes) {
		return changes.stream().map(change -> new Change(change.day(), change.retained(), 0, null)).toList();
	}

	/** As readings scatter about the line, but never less than the test's own. */
	private static double readingError(double[] carriedToday, double level) {
		double own = TestPrecision.usual(Level.TA).standardDeviation(level);
		if (carriedToday.length < MIN_READINGS) {
			return own;
		}
		double[] off = Arrays.stream(carriedToday).map(value -> Math.abs(value - level)).toArray();
		return Math.max(own, SD_OVER_MAD * TheilSenLine.median(off));
	}

	private static Map<String, Double> recordedPerWeek(List<Change> changes, long from, long today) {
		double weeks = Math.max(1, (today - from) / 7.0);
		Map<String, Double> rates = new TreeMap<>();
		for (Change change : changes) {
			if (change.product() != null && change.day() >= from && change.day() < today) {
				rates.merge(change.product(), change.added() / weeks, Double::sum);
			}
		}
		return rates;
	}

	/** Week by week, and before and after each change. */
	private static List<DatedBand> course(double today, double slope, List<Change> changes, long first, long last) {
		double start = (today - carry(0, slope, changes, first, last)) / carry(1, 0, onlyRetained(changes), first, last);
		TreeSet<Long> days = new TreeSet<>(List.of(last));
		for (long day = first; day < last; day += 7) {
			days.add(day);
		}
		List<Change> since = changes.stream().filter(change -> change.day() >= first).toList();
		since.forEach(change -> days.add(change.day()));
		List<DatedBand> course = new ArrayList<>();
		for (long day : days) {
			List<Change> before = since.stream().filter(change -> change.day() < day).toList();
			course.add(point(day, carry(start, slope, before, first, day)));
			if (since.stream().anyMatch(change -> change.day() == day)) {
				course.add(point(day, carry(start, slope, since, first, day)));
			}
		}
		return course;
	}

	private static DatedBand point(long day, double ppm) {
		double level = Math.max(0, ppm);
		return new DatedBand(day, new Band(level, level, level));
	}

	/** Where the level meets an end of the acceptable range. @return empty when not known, or not within so many days */
	public Optional<Exit> exit(Range range, long now, int days) {
		if (drift == null || !drift.signKnown()) {
			return Optional.empty();
		}
		double perDay = drift.perWeek() / 7;
		boolean rising = perDay > 0;
		double limit = rising ? range.acceptableHigh() : range.acceptableLow();
		double ahead = Math.max(0, (limit - today.middle()) / perDay);
		if (!rising && limit <= 0 || ahead > days) {
			return Optional.empty();
		}
		double fast = Math.abs(perDay);
		double distance = rising ? limit - today.middle() : today.middle() - limit;
		Long earliest = null;
		Long latest = null;
		for (int day = 0; day <= days && latest == null; day++) {
			double half = Math.hypot(today.high() - today.middle(), day * (drift.unrecorded().high() - drift.unrecorded().middle()) / 7);
			earliest = (earliest == null && fast * day + half > distance) ? Long.valueOf(now + day) : earliest;
			latest = (fast * day - half > distance) ? Long.valueOf(now + day) : null;
		}
		long day = now + (long) Math.ceil(ahead - 1e-9);
		return Optional.of(new Exit(day, (earliest != null) ? Math.min(earliest, day) : day, latest, limit, rising));
	}

	/** Weeks until an end of the ideal range is passed at the present drift; empty when it is not known. */
	public OptionalDouble weeksToLeaveIdeal(Range range) {
		if (drift == null || !drift.signKnown()) {
			return OptionalDouble.empty();
		}
		double end = (drift.perWeek() > 0) ? range.idealHigh() : range.idealLow();
		return OptionalDouble.of((end - today.middle()) / drift.perWeek());
	}

}
