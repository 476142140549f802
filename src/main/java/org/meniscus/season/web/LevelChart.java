package org.meniscus.season.web;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.format.TextStyle;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.season.DriftEvidence;
import org.meniscus.season.LevelSnapshot;
import org.meniscus.season.LevelTrend;
import org.meniscus.water.drift.DriftBand;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.SeasonEstimate.Today;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

/**
 * A level over a season as a graduated drawing: the scale stands at the left like the rule of a burette, the ideal band lies across,
 * readings are filled marks, readings that were only bounds are open marks with a whisker, the estimate is a line with its
 * band at the end, the forecast a broken line in a widening band, an acceptable limit a barred line, doses are ticks below. All positions are in the drawing's own units.
 */
record LevelChart(int width, int height, double left, double right, double top, double bottom, @Nullable Box acceptable,
		@Nullable Box ideal, List<Limit> limits, List<Tick> ticks, List<Month> months, List<Dot> readings, List<Open> open, String line,
		String pastBand, @Nullable String ahead, String aheadBand, @Nullable Whisker band, double todayX, List<DoseRow> doses) {

	private static final int SHOWN_PRODUCTS = 4;

	private static final double ROW = 17;

	/**
	 * What is drawn.
	 *
	 * @param past,ahead by day; a band without width is a bare line
	 * @param now null when the level of today is not drawn apart
	 */
	record Course(@Nullable Range range, List<DriftEvidence.Reading> readings, List<LevelTrend.Dose> doses, List<DriftBand.Dated> past,
			List<DriftBand.Dated> ahead, @Nullable DriftBand now) {

		static Course of(LevelTrend season) {
			List<DriftEvidence.Reading> readings = readings(season.readings());
			List<DriftBand.Dated> past = season.estimate()
				.course()
				.stream()
				.map(point -> new DriftBand.Dated(point.day(), new DriftBand(point.level(), point.level(), point.level())))
				.toList();
			DriftBand now = (season.estimate().today() instanceof Today.Level level && season.estimate().drift() != null)
					? new DriftBand(level.low(), level.middle(), level.high()) : null;
			return new Course(season.range(), readings, season.doses(), past, List.of(), now);
		}

		static Course of(LevelDrift drift, List<LevelTrend.Reading> readings, List<LevelTrend.Dose> doses) {
			return new Course(drift.range(), readings(readings), doses, drift.past(), drift.ahead(), drift.today());
		}

		static Course of(LevelSnapshot kept) {
			DriftEvidence evidence = kept.evidence();
			return new Course(evidence.range(), evidence.readings(), List.of(), List.of(), evidence.ahead(), kept.today());
		}

		/** The same with another forecast. */
		Course heading(List<DriftBand.Dated> elsewhere) {
			return new Course(range, readings, doses, past, elsewhere, now);
		}

		private static List<DriftEvidence.Reading> readings(List<LevelTrend.Reading> readings) {
			return readings.stream()
				.map(reading -> new DriftEvidence.Reading(reading.day().toEpochDay(), reading.value(), reading.mark()))
				.toList();
		}

	}

	record Box(double y, double height) {
	}

	/** An acceptable limit. @param bars short strokes on its outer side, as paths */
	record Limit(double y, String bars, String label) {
	}

	/** @param label empty for a minor one */
	record Tick(double y, double length, String label) {
	}

	record Month(double x, String label) {
	}

	record Dot(double x, double y) {
	}

	/** A bound: mark at (x, y), whisker to {@code endY} where the true value lies. */
	record Open(double x, double y, double endY) {
	}

	record Whisker(double low, double middle, double high) {
	}

	/** Ticks of one product. @param y of its base line */
	record DoseRow(String product, double y, List<Double> xs) {
	}

	/** The full drawing for the pool page. */
	static LevelChart full(Course season, LocalDate from, LocalDate today, int weeksAhead, Locale locale) {
		return new Drawing(season, from, today, weeksAhead, locale, 360, 34, 352, 8, 138, true).chart();
	}

	/** The small picture of a row. */
	static LevelChart small(Course season, LocalDate from, LocalDate today, int weeksAhead) {
		return new Drawing(season, from, today, weeksAhead, Locale.US, 160, 2, 158, 3, 37, false).chart();
	}

	/** Works the drawing out. */
	private static final class Drawing {

		private final Course course;

		private final long first;

		private final long today;

		private final long last;

		private final Locale locale;

		private final int width;

		private final double left;

		private final double right;

		private final double top;

		private final double bottom;

		private final boolean full;

		private final double low;

		private final double high;

		Drawing(Course course, LocalDate from, LocalDate today, int weeksAhead, Locale locale, int width, double left,
				double right, double top, double bottom, boolean full) {
			this.course = course;
			this.first = from.toEpochDay();
			this.today = today.toEpochDay();
			this.last = this.today + 7L * weeksAhead;
			this.locale = locale;
			this.width = width;
			this.left = left;
			this.right = right;
			this.top = top;
			this.bottom = bottom;
			this.full = full;
			double[] span = span();
			this.low = span[0];
			this.high = span[1];
		}

		/** Everything drawn must fit; the ideal band always shows, an acceptable limit when the level comes near it. */
		private double[] span() {
			double least = Double.POSITIVE_INFINITY;
			double most = Double.NEGATIVE_INFINITY;
			for (DriftEvidence.Reading reading : course.readings()) {
				if (reading.day() >= first) {
					least = Math.min(least, reading.value());
					most = Math.max(most, reading.value());
				}
			}
			for (DriftBand.Dated point : Stream.concat(course.past().stream(), course.ahead().stream()).toList()) {
				if (point.day() >= first && point.day() <= last) {
					least = Math.min(least, point.band().low());
					most = Math.max(most, point.band().high());
				}
			}
			Range range = course.range();
			if (range != null) {
				least = Math.min(least, range.idealLow());
				most = Math.max(most, range.idealHigh());
			}
			if (Double.isInfinite(least)) {
				return new double[] { 0, 1 };
			}
			double room = Math.max(most - least, 0.02 * Math.max(1, most));
			if (range != null && range.acceptableHigh() <= most + 0.5 * room) {
				most = Math.max(most, range.acceptableHigh());
			}
			if (range != null && range.acceptableLow() >= least - 0.5 * room) {
				least = Math.min(least, range.acceptableLow());
			}
			room = Math.max(most - least, 0.02 * Math.max(1, most));
			return new double[] { Math.max(0, least - 0.12 * room), most + 0.12 * room };
		}

		LevelChart chart() {
			List<DoseRow> doses = full ? doses() : List.of();
			double foot = full ? bottom + 20 + ROW * doses.size() + (doses.isEmpty() ? 0 : 4) : bottom + 3;
			Range range = course.range();
			return new LevelChart(width, (int) Math.ceil(foot), left, right, top, bottom,
					(range != null) ? box(range.acceptableLow(), range.acceptableHigh()) : null,
					(range != null) ? box(range.idealLow(), range.idealHigh()) : null, limits(), full ? ticks() : List.of(),
					full ? months() : List.of(), dots(), open(), line(shown(course.past())), band(shown(course.past())), ahead(),
					band(forecast()), whisker(), x(today), doses);
		}

		private @Nullable Box box(double from, double to) {
			double upper = y(Math.min(to, high));
			double lower = y(Math.max(from, low));
			return (lower > upper) ? new Box(upper, round(lower - upper)) : null;
		}

		private List<Tick> ticks() {
			double step = step((high - low) / 4);
			List<Tick> ticks = new ArrayList<>();
			double minor = step / 5;
			for (long n = (long) Math.ceil(low / minor); n * minor <= high; n++) {
				boolean major = n % 5 == 0;
				ticks.add(new Tick(y(n * minor), major ? 8 : 4, major ? label(n * minor, step) : ""));
			}
			return ticks;
		}

		private static String label(double value, double step) {
			return (step >= 1) ? String.valueOf(Math.round(value)) : String.format(Locale.US, (step >= 0.1) ? "%.1f" : "%.2f", value);
		}

		/** The next of 1, 2, 5 times a power of ten. */
		private static double step(double atLeast) {
			double power = Math.pow(10, Math.floor(Math.log10(atLeast)));
			for (double factor : new double[] { 1, 2, 5 }) {
				if (factor * power >= atLeast * 0.999) {
					return factor * power;
				}
			}
			return 10 * power;
		}

		private List<Month> months() {
			List<Month> months = new ArrayList<>();
			long count = (last - first) / 30;
			int every = (count > 9) ? 2 : 1;
			for (YearMonth month = YearMonth.from(LocalDate.ofEpochDay(first)).plusMonths(1); month.atDay(1).toEpochDay() <= last; month = month
				.plusMonths(1)) {
				String name = month.getMonth().getDisplayName(TextStyle.SHORT, locale).replace(".", "");
				boolean named = month.getMonthValue() % every == 0 && x(month.atDay(1).toEpochDay()) < right - 14;
				months.add(new Month(x(month.atDay(1).toEpochDay()), named ? name : ""));
			}
			return months;
		}

		private List<Limit> limits() {
			List<Limit> limits = new ArrayList<>();
			Range range = course.range();
			if (range != null) {
				limit(limits, range.acceptableHigh(), -1);
				limit(limits, range.acceptableLow(), 1);
			}
			return limits;
		}

		private void limit(List<Limit> limits, double value, int outward) {
			if (value <= low || value >= high) {
				return;
			}
			StringBuilder bars = new StringBuilder();
			double apart = full ? 12 : 10;
			for (double x = left + apart / 2; x < right; x += apart) {
				bars.append('M').append(round(x)).append(' ').append(y(value)).append("l3 ").append(3 * outward);
			}
			limits.add(new Limit(y(value), bars.toString(), label(value, 1)));
		}

		private List<Dot> dots() {
			return course.readings()
				.stream()
				.filter(reading -> reading.mark() == ReadingQualifier.EXACT && reading.day() >= first)
				.map(reading -> new Dot(x(reading.day()), y(reading.value())))
				.toList();
		}

		private List<Open> open() {
			return course.readings()
				.stream()
				.filter(reading -> reading.mark() != ReadingQualifier.EXACT && reading.day() >= first)
				.map(reading -> new Open(x(reading.day()), y(reading.value()),
						(reading.mark() == ReadingQualifier.ABOVE) ? top : y(Math.max(0, low))))
				.toList();
		}

		private List<DriftBand.Dated> shown(List<DriftBand.Dated> points) {
			return points.stream().filter(point -> point.day() >= first && point.day() <= last).toList();
		}

		/** From today on, so that the forecast begins where the estimate ends. */
		private List<DriftBand.Dated> forecast() {
			DriftBand now = course.now();
			List<DriftBand.Dated> points = new ArrayList<>();
			if (now != null && last > today && !course.ahead().isEmpty()) {
				points.add(new DriftBand.Dated(today, now));
				course.ahead().stream().filter(point -> point.day() > today && point.day() <= last).forEach(points::add);
			}
			return points;
		}

		private String line(List<DriftBand.Dated> points) {
			StringBuilder path = new StringBuilder();
			for (DriftBand.Dated point : points) {
				path.append((path.length() == 0) ? 'M' : 'L').append(x(point.day())).append(' ').append(y(point.band().middle()));
			}
			return path.toString();
		}

		/** Along the upper ends and back along the lower ones; empty for bare lines. */
		private String band(List<DriftBand.Dated> points) {
			if (points.size() < 2 || points.stream().allMatch(point -> point.band().width() == 0)) {
				return "";
			}
			StringBuilder path = new StringBuilder();
			for (DriftBand.Dated point : points) {
				path.append((path.length() == 0) ? 'M' : 'L').append(x(point.day())).append(' ').append(y(point.band().high()));
			}
			for (int n = points.size() - 1; n >= 0; n--) {
				path.append('L').append(x(points.get(n).day())).append(' ').append(y(points.get(n).band().low()));
			}
			return path.append('Z').toString();
		}

		private @Nullable String ahead() {
			List<DriftBand.Dated> points = forecast();
			return (points.size() < 2) ? null : line(points);
		}

		private @Nullable Whisker whisker() {
			DriftBand now = course.now();
			return (now != null) ? new Whisker(y(Math.max(now.low(), low)), y(now.middle()), y(Math.min(now.high(), high))) : null;
		}

		private List<DoseRow> doses() {
			Map<String, List<Double>> byProduct = new LinkedHashMap<>();
			for (LevelTrend.Dose dose : course.doses()) {
				if (dose.day().toEpochDay() >= first) {
					byProduct.computeIfAbsent(dose.product(), any -> new ArrayList<>()).add(x(dose.day().toEpochDay()));
				}
			}
			List<DoseRow> rows = new ArrayList<>();
			byProduct.entrySet()
				.stream()
				.sorted((one, other) -> other.getValue().size() - one.getValue().size())
				.limit(SHOWN_PRODUCTS)
				.forEach(entry -> rows.add(new DoseRow(entry.getKey(), round(bottom + 20 + ROW * (rows.size() + 1) - 3),
						entry.getValue())));
			return rows;
		}

		private double x(long day) {
			return round(left + (right - left) * (day - first) / Math.max(1, last - first));
		}

		private double y(double level) {
			double share = (level - low) / (high - low);
			return round(bottom - (bottom - top) * Math.min(1, Math.max(0, share)));
		}

		private static double round(double value) {
			return Math.round(value * 10) / 10.0;
		}

	}

}
