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
import org.meniscus.water.demand.AlkalinityTrend;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;

/**
 * A level over a season as a graduated drawing: the scale stands at the left like the rule of a burette, the ideal band lies across,
 * readings are filled marks, readings that were only bounds are open marks with a whisker, the estimate is a line with its
 * band at the end, the forecast a broken line in a widening band, an acceptable limit a barred line, doses are ticks below. All positions are in the drawing's own units.
 */
record LevelChart(int width, int height, double left, double right, double top, double bottom, @Nullable RangeBox acceptable,
		@Nullable RangeBox ideal, List<LimitLine> limits, List<ScaleTick> ticks, List<MonthLabel> months, List<ReadingPoint> readings,
		List<CensoredPoint> censored, String line,
		String pastBand, @Nullable String forecast, String forecastBand, @Nullable ErrorBar errorBar, double todayX,
		List<ProductTicks> doses) {

	private static final int MAX_PRODUCTS = 4;

	private static final double ROW_HEIGHT = 17;

	/**
	 * What is drawn.
	 *
	 * @param past,ahead by day; a band without width is a bare line
	 * @param now null when the level of today is not drawn apart
	 */
	record ChartSeries(@Nullable Range range, List<DriftEvidence.PlottedReading> readings, List<LevelTrend.LevelDose> doses,
			List<DatedBand> past,
			List<DatedBand> forecast, @Nullable Band now) {

		static ChartSeries of(LevelTrend season) {
			AlkalinityTrend alkalinity = season.alkalinity();
			return new ChartSeries(season.range(), season.readings().stream().map(DriftEvidence.PlottedReading::of).toList(),
					season.doses(),
					(alkalinity != null) ? alkalinity.course() : List.of(), List.of(),
					(alkalinity != null && alkalinity.drift() != null) ? alkalinity.today() : null);
		}

		static ChartSeries of(LevelDrift drift, List<LevelTrend.LevelReading> readings, List<LevelTrend.LevelDose> doses) {
			return new ChartSeries(drift.range(), readings.stream().map(DriftEvidence.PlottedReading::of).toList(), doses, drift.past(),
					drift.forecast(), drift.today());
		}

		static ChartSeries of(LevelSnapshot snapshot) {
			DriftEvidence evidence = snapshot.evidence();
			return new ChartSeries(evidence.range(), evidence.readings(), List.of(), List.of(), evidence.forecast(), snapshot.today());
		}

		/** The same with another forecast. */
		ChartSeries withForecast(List<DatedBand> elsewhere) {
			return new ChartSeries(range, readings, doses, past, elsewhere, now);
		}

	}

	record RangeBox(double y, double height) {
	}

	/** An acceptable limit. @param bars short strokes on its outer side, as paths */
	record LimitLine(double y, String bars, String label) {
	}

	/** @param label empty for a minor one */
	record ScaleTick(double y, double length, String label) {
	}

	record MonthLabel(double x, String label) {
	}

	record ReadingPoint(double x, double y) {
	}

	/** A bound: mark at (x, y), whisker to {@code endY} where the true value lies. */
	record CensoredPoint(double x, double y, double endY) {
	}

	record ErrorBar(double low, double high) {
	}

	/** Ticks of one product. @param y of its base line */
	record ProductTicks(String product, double y, List<Double> xs) {
	}

	/** The full drawing for the pool page. */
	static LevelChart full(ChartSeries season, LocalDate from, LocalDate today, int weeksAhead, Locale locale) {
		return new Drawing(season, from, today, weeksAhead, locale, 360, 34, 352, 8, 138, true).chart();
	}

	/** The small picture of a row. */
	static LevelChart sparkline(ChartSeries season, LocalDate from, LocalDate today, int weeksAhead) {
		return new Drawing(season, from, today, weeksAhead, Locale.US, 160, 2, 158, 3, 37, false).chart();
	}

	/** Works the drawing out. */
	private static final class Drawing {

		private final ChartSeries course;

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

		Drawing(ChartSeries course, LocalDate from, LocalDate today, int weeksAhead, Locale locale, int width, double left,
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
			double[] span = scale();
			this.low = span[0];
			this.high = span[1];
		}

		/** Everything drawn must fit; the ideal band always shows, an acceptable limit when the level comes near it. */
		private double[] scale() {
			double min = Double.POSITIVE_INFINITY;
			double max = Double.NEGATIVE_INFINITY;
			for (DriftEvidence.PlottedReading reading : course.readings()) {
				if (reading.day() >= first) {
					min = Math.min(min, reading.value());
					max = Math.max(max, reading.value());
				}
			}
			for (DatedBand point : Stream.concat(course.past().stream(), course.forecast().stream()).toList()) {
				if (point.day() >= first && point.day() <= last) {
					min = Math.min(min, point.band().low());
					max = Math.max(max, point.band().high());
				}
			}
			Range range = course.range();
			if (range != null) {
				min = Math.min(min, range.idealLow());
				max = Math.max(max, range.idealHigh());
			}
			if (Double.isInfinite(min)) {
				return new double[]{ 0, 1 };
			}
			double room = Math.max(max - min, 0.02 * Math.max(1, max));
			if (range != null && range.acceptableHigh() <= max + 0.5 * room) {
				max = Math.max(max, range.acceptableHigh());
			}
			if (range != null && range.acceptableLow() >= min - 0.5 * room) {
				min = Math.min(min, range.acceptableLow());
			}
			room = Math.max(max - min, 0.02 * Math.max(1, max));
			return new double[]{ Math.max(0, min - 0.12 * room), max + 0.12 * room };
		}

		LevelChart chart() {
			List<ProductTicks> doses = full ? doses() : List.of();
			double foot = full ? bottom + 20 + ROW_HEIGHT * doses.size() + (doses.isEmpty() ? 0 : 4) : bottom + 3;
			Range range = course.range();
			return new LevelChart(width, (int) Math.ceil(foot), left, right, top, bottom,
					(range != null) ? box(range.acceptableLow(), range.acceptableHigh()) : null,
					(range != null) ? box(range.idealLow(), range.idealHigh()) : null, limits(), full ? ticks() : List.of(),
					full ? months() : List.of(), readingPoints(), censored(), line(shown(course.past())), band(shown(course.past())),
					forecastLine(),
					band(forecast()), errorBar(), x(today), doses);
		}

		private @Nullable RangeBox box(double from, double to) {
			double upper = y(Math.min(to, high));
			double lower = y(Math.max(from, low));
			return (lower > upper) ? new RangeBox(upper, round(lower - upper)) : null;
		}

		private List<ScaleTick> ticks() {
			double step = step((high - low) / 4);
			List<ScaleTick> ticks = new ArrayList<>();
			double minor = step / 5;
			for (long n = (long) Math.ceil(low / minor); n * minor <= high; n++) {
				boolean major = n % 5 == 0;
				ticks.add(new ScaleTick(y(n * minor), major ? 8 : 4, major ? label(n * minor, step) : ""));
			}
			return ticks;
		}

		private static String label(double value, double step) {
			return (step >= 1) ? String.valueOf(Math.round(value)) : String.format(Locale.US, (step >= 0.1) ? "%.1f" : "%.2f", value);
		}

		/** The next of 1, 2, 5 times a power of ten. */
		private static double step(double atLeast) {
			double power = Math.pow(10, Math.floor(Math.log10(atLeast)));
			for (double factor : new double[]{ 1, 2, 5 }) {
				if (factor * power >= atLeast * 0.999) {
					return factor * power;
				}
			}
			return 10 * power;
		}

		private List<MonthLabel> months() {
			List<MonthLabel> months = new ArrayList<>();
			long count = (last - first) / 30;
			int every = (count > 9) ? 2 : 1;
			for (YearMonth month = YearMonth.from(LocalDate.ofEpochDay(first)).plusMonths(1); month.atDay(1)
				.toEpochDay() <= last; month = month
					.plusMonths(1)) {
				String name = month.getMonth().getDisplayName(TextStyle.SHORT, locale).replace(".", "");
				boolean named = month.getMonthValue() % every == 0 && x(month.atDay(1).toEpochDay()) < right - 14;
				months.add(new MonthLabel(x(month.atDay(1).toEpochDay()), named ? name : ""));
			}
			return months;
		}

		private List<LimitLine> limits() {
			List<LimitLine> limits = new ArrayList<>();
			Range range = course.range();
			if (range != null) {
				limit(limits, range.acceptableHigh(), -1);
				limit(limits, range.acceptableLow(), 1);
			}
			return limits;
		}

		private void limit(List<LimitLine> limits, double value, int outward) {
			if (value <= low || value >= high) {
				return;
			}
			StringBuilder bars = new StringBuilder();
			double apart = full ? 12 : 10;
			for (double x = left + apart / 2; x < right; x += apart) {
				bars.append('M').append(round(x)).append(' ').append(y(value)).append("l3 ").append(3 * outward);
			}
			limits.add(new LimitLine(y(value), bars.toString(), label(value, 1)));
		}

		private List<ReadingPoint> readingPoints() {
			return course.readings()
				.stream()
				.filter(reading -> reading.qualifier() == ReadingQualifier.EXACT && reading.day() >= first)
				.map(reading -> new ReadingPoint(x(reading.day()), y(reading.value())))
				.toList();
		}

		private List<CensoredPoint> censored() {
			return course.readings()
				.stream()
				.filter(reading -> reading.qualifier() != ReadingQualifier.EXACT && reading.day() >= first)
				.map(reading -> new CensoredPoint(x(reading.day()), y(reading.value()),
						(reading.qualifier() == ReadingQualifier.ABOVE) ? top : y(Math.max(0, low))))
				.toList();
		}

		private List<DatedBand> shown(List<DatedBand> points) {
			return points.stream().filter(point -> point.day() >= first && point.day() <= last).toList();
		}

		/** From today on, so that the forecast begins where the estimate ends. */
		private List<DatedBand> forecast() {
			Band now = course.now();
			List<DatedBand> points = new ArrayList<>();
			if (now != null && last > today && !course.forecast().isEmpty()) {
				points.add(new DatedBand(today, now));
				course.forecast().stream().filter(point -> point.day() > today && point.day() <= last).forEach(points::add);
			}
			return points;
		}

		private String line(List<DatedBand> points) {
			StringBuilder path = new StringBuilder();
			for (DatedBand point : points) {
				path.append((path.length() == 0) ? 'M' : 'L').append(x(point.day())).append(' ').append(y(point.band().middle()));
			}
			return path.toString();
		}

		/** Along the upper ends and back along the lower ones; empty for bare lines. */
		private String band(List<DatedBand> points) {
			if (points.size() < 2 || points.stream().allMatch(point -> point.band().width() == 0)) {
				return "";
			}
			StringBuilder path = new StringBuilder();
			for (DatedBand point : points) {
				path.append((path.length() == 0) ? 'M' : 'L').append(x(point.day())).append(' ').append(y(point.band().high()));
			}
			for (int n = points.size() - 1; n >= 0; n--) {
				path.append('L').append(x(points.get(n).day())).append(' ').append(y(points.get(n).band().low()));
			}
			return path.append('Z').toString();
		}

		private @Nullable String forecastLine() {
			List<DatedBand> points = forecast();
			return (points.size() < 2) ? null : line(points);
		}

		private @Nullable ErrorBar errorBar() {
			Band now = course.now();
			return (now != null) ? new ErrorBar(y(Math.max(now.low(), low)), y(Math.min(now.high(), high))) : null;
		}

		private List<ProductTicks> doses() {
			Map<String, List<Double>> byProduct = new LinkedHashMap<>();
			for (LevelTrend.LevelDose dose : course.doses()) {
				if (dose.day().toEpochDay() >= first) {
					byProduct.computeIfAbsent(dose.product(), any -> new ArrayList<>()).add(x(dose.day().toEpochDay()));
				}
			}
			List<ProductTicks> rows = new ArrayList<>();
			byProduct.entrySet()
				.stream()
				.sorted((one, other) -> other.getValue().size() - one.getValue().size())
				.limit(MAX_PRODUCTS)
				.forEach(entry -> rows.add(new ProductTicks(entry.getKey(), round(bottom + 20 + ROW_HEIGHT * (rows.size() + 1) - 3),
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
