package org.meniscus.season.web;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.format.TextStyle;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.season.LevelSeason;
import org.meniscus.water.season.SeasonEstimate.Drift;
import org.meniscus.water.season.SeasonEstimate.Point;
import org.meniscus.water.season.SeasonEstimate.Today;
import org.meniscus.water.treatment.Mark;
import org.meniscus.water.treatment.Range;

/**
 * A level over a season as a graduated drawing: the scale stands at the left like the rule of a burette, the ideal band lies across,
 * readings are filled marks, readings that were only bounds are open marks with a whisker, the estimate is a line with its
 * band at the end, doses are ticks below. All positions are in the drawing's own units.
 */
record LevelChart(int width, int height, double left, double right, double top, double bottom, @Nullable Box acceptable,
		@Nullable Box ideal, List<Tick> ticks, List<Month> months, List<Dot> readings, List<Open> open, String line,
		@Nullable String ahead, @Nullable Whisker band, double todayX, List<DoseRow> doses) {

	private static final int SHOWN_PRODUCTS = 4;

	private static final double ROW = 17;

	record Box(double y, double height) {
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
	static LevelChart full(LevelSeason season, LocalDate from, LocalDate today, int weeksAhead, Locale locale) {
		return new Drawing(season, from, today, weeksAhead, locale, 360, 34, 352, 8, 138, true).chart();
	}

	/** The small picture of a row. */
	static LevelChart small(LevelSeason season, LocalDate from, LocalDate today, int weeksAhead) {
		return new Drawing(season, from, today, weeksAhead, Locale.US, 160, 2, 158, 3, 37, false).chart();
	}

	/** Works the drawing out. */
	private static final class Drawing {

		private final LevelSeason season;

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

		Drawing(LevelSeason season, LocalDate from, LocalDate today, int weeksAhead, Locale locale, int width, double left,
				double right, double top, double bottom, boolean full) {
			this.season = season;
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
			for (LevelSeason.Reading reading : season.readings()) {
				if (reading.day().toEpochDay() >= first) {
					least = Math.min(least, reading.value());
					most = Math.max(most, reading.value());
				}
			}
			for (Point point : season.estimate().course()) {
				if (point.day() >= first) {
					least = Math.min(least, point.level());
					most = Math.max(most, point.level());
				}
			}
			Range range = season.range();
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
			Range range = season.range();
			return new LevelChart(width, (int) Math.ceil(foot), left, right, top, bottom,
					(range != null) ? box(range.acceptableLow(), range.acceptableHigh()) : null,
					(range != null) ? box(range.idealLow(), range.idealHigh()) : null, full ? ticks() : List.of(),
					full ? months() : List.of(), dots(), open(), line(), ahead(), band(), x(today), doses);
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

		private List<Dot> dots() {
			return season.readings()
				.stream()
				.filter(reading -> reading.mark() == Mark.EXACT && reading.day().toEpochDay() >= first)
				.map(reading -> new Dot(x(reading.day().toEpochDay()), y(reading.value())))
				.toList();
		}

		private List<Open> open() {
			return season.readings()
				.stream()
				.filter(reading -> reading.mark() != Mark.EXACT && reading.day().toEpochDay() >= first)
				.map(reading -> new Open(x(reading.day().toEpochDay()), y(reading.value()),
						(reading.mark() == Mark.ABOVE) ? top : y(Math.max(0, low))))
				.toList();
		}

		private String line() {
			StringBuilder path = new StringBuilder();
			for (Point point : season.estimate().course()) {
				if (point.day() >= first) {
					path.append((path.length() == 0) ? 'M' : 'L').append(x(point.day())).append(' ').append(y(point.level()));
				}
			}
			return path.toString();
		}

		private @Nullable String ahead() {
			Drift drift = season.estimate().drift();
			if (last <= today || drift == null || !drift.signKnown() || !(season.estimate().today() instanceof Today.Level level)) {
				return null;
			}
			double perDay = drift.perWeek() / 7;
			double end = level.middle() + perDay * (last - today);
			long until = last;
			if (perDay != 0 && (end > high || end < low)) {
				double edge = (perDay > 0) ? high : low;
				until = today + (long) Math.floor((edge - level.middle()) / perDay);
				end = level.middle() + perDay * (until - today);
			}
			return "M" + x(today) + " " + y(level.middle()) + "L" + x(until) + " " + y(end);
		}

		private @Nullable Whisker band() {
			return (season.estimate().today() instanceof Today.Level level && season.estimate().drift() != null)
					? new Whisker(y(Math.max(level.low(), low)), y(level.middle()), y(Math.min(level.high(), high))) : null;
		}

		private List<DoseRow> doses() {
			Map<String, List<Double>> byProduct = new LinkedHashMap<>();
			for (LevelSeason.Dose dose : season.doses()) {
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
