package org.meniscus.season;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.LevelNames;
import org.meniscus.water.demand.AlkalinityTrend;
import org.meniscus.water.drift.DriftCause;
import org.meniscus.water.drift.DriftSettings;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.Band;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Says in plain words what is known of a level over a season; the same sentence on every page, in the reader's language. */
@Component
public class SeasonFormatter {

	/** As many readings as one can look over. */
	private static final int MAX_READINGS = 4;

	/** After so many days one should test again: TA, and FC and pH. Judgement, no source. */
	private static final int STALE_ALKALINITY_DAYS = 30, STALE_DAYS = 10;

	private static final int FLAG_WEEKS = DriftSettings.HORIZON_DAYS / 7;

	/** ppm; less is no news. */
	private static final double MIN_CAUSE_PPM = 0.5;

	private final MessageSource messages;

	SeasonFormatter(MessageSource messages) {
		this.messages = messages;
	}

	/** The level's name to begin a sentence with: "Stabilizer (CYA)". */
	public String name(Level level, Locale locale) {
		return LevelNames.nameWithCode(level, (key, arguments) -> text(locale, key, arguments));
	}

	/** Such as "Alkalinity (TA) 92 ppm, falling 1.8 a week; falls to 60 about Jan 2 (80 %: Dec 12 to Feb 3)." */
	public String describe(LevelTrend trend, LocalDate today, Locale locale) {
		String forecast = describeForecast(trend, today, locale);
		return describeNow(trend, locale) + (forecast.isEmpty() ? "" : "; " + forecast) + ".";
	}

	private String describeNow(LevelTrend trend, Locale locale) {
		String name = name(trend.level(), locale);
		LevelTrend.LevelReading newest = trend.newest();
		if (newest == null) {
			return text(locale, trend.readings().isEmpty() ? "season.sentence.unknown" : "season.sentence.replaced", name);
		}
		String value = value(trend.level(), newest.value());
		if (newest.qualifier() != ReadingQualifier.EXACT) {
			return text(locale, (newest.qualifier() == ReadingQualifier.ABOVE) ? "season.sentence.above" : "season.sentence.below", name,
					value);
		}
		AlkalinityTrend alkalinity = trend.alkalinity();
		if (alkalinity == null) {
			return text(locale, "season.sentence.found", name, value, day(newest.day(), locale));
		}
		String level = value(trend.level(), alkalinity.today().middle());
		AlkalinityTrend.Drift drift = alkalinity.drift();
		if (drift == null) {
			return text(locale, "season.sentence.few", name, level);
		}
		String rate = rate(Math.abs(drift.perWeek()));
		if (!drift.signKnown() || rate.equals("0.0")) {
			return text(locale, "season.sentence.even", name, level);
		}
		return text(locale, (drift.perWeek() > 0) ? "season.sentence.rising" : "season.sentence.falling", name, level, rate);
	}

	private String describeForecast(LevelTrend trend, LocalDate today, Locale locale) {
		Range range = trend.range();
		Double now = trend.now();
		if (range == null || now == null) {
			return "";
		}
		if (now > range.acceptableHigh()) {
			return text(locale, "season.sentence.over", number(trend.level(), range.acceptableHigh()));
		}
		if (now < range.acceptableLow()) {
			return text(locale, "season.sentence.under", number(trend.level(), range.acceptableLow()));
		}
		AlkalinityTrend alkalinity = trend.alkalinity();
		AlkalinityTrend.Exit exit = (alkalinity == null) ? null
				: alkalinity.exit(range, today.toEpochDay(), LevelTrend.FORECAST_DAYS).orElse(null);
		if (exit != null) {
			String limit = number(trend.level(), exit.limit());
			String key = exit.rising() ? "season.sentence.reaches" : "season.sentence.falls";
			return (exit.latest() != null)
					? text(locale, key, limit, day(exit.day(), locale), day(exit.earliest(), locale), day(exit.latest(), locale))
					: text(locale, key + "Open", limit, day(exit.day(), locale), day(exit.earliest(), locale));
		}
		if (now > range.idealHigh()) {
			return text(locale, "season.sentence.aboveIdeal", number(trend.level(), range.idealHigh()));
		}
		if (now < range.idealLow()) {
			return text(locale, "season.sentence.belowIdeal", number(trend.level(), range.idealLow()));
		}
		if (alkalinity == null || alkalinity.drift() == null) {
			return "";
		}
		double weeks = alkalinity.weeksToLeaveIdeal(range).orElse(Double.POSITIVE_INFINITY);
		double end = (alkalinity.drift().perWeek() > 0) ? range.idealHigh() : range.idealLow();
		return (weeks <= LevelTrend.WEEKS_AHEAD)
				? text(locale, "season.sentence.leavesIdeal", number(trend.level(), end), weeks(weeks, locale))
				: text(locale, "season.sentence.stays");
	}

	/** Code under {@code level.state.*}. */
	public String state(@Nullable Band today, @Nullable Range range, boolean flagged) {
		if (today == null) {
			return "UNKNOWN";
		}
		if (range != null && (today.middle() > range.acceptableHigh() || today.middle() < range.acceptableLow())) {
			return "OUT_OF_RANGE";
		}
		return flagged ? "DRIFTING" : "IN_RANGE";
	}

	/** Such as "Stabilizer (CYA) about 92 ppm (80 %: 84 to 100); reaches 100 about Jul 14 (80 %: Jul 2 to Jul 30)." */
	public String describe(LevelSnapshot snapshot, LocalDate today, Locale locale) {
		return describe(snapshot.level(), snapshot.today(), snapshot.exit(), today, locale);
	}

	/** The same for a level that was just worked out. */
	public String describe(LevelDrift drift, LocalDate today, Locale locale) {
		return describe(drift.level(), drift.today(), DriftSnapshots.exitForecast(drift), today, locale);
	}

	private String describe(Level level, @Nullable Band now, LevelSnapshot.@Nullable ExitForecast leaving, LocalDate today,
			Locale locale) {
		String name = name(level, locale);
		if (now == null) {
			return text(locale, "season.sentence.unknown", name) + ".";
		}
		String sentences = name + " "
				+ text(locale, "season.band", value(level, now.middle()), number(level, now.low()), number(level, now.high()));
		return (leaving == null) ? sentences + "." : sentences + "; " + describeExit(level, now, leaving, today, locale) + ".";
	}

	/** "reaches 100 about Jul 14 (80 %: Jul 2 to Jul 30)" and what else can be said of leaving the range. */
	private String describeExit(Level level, Band now, LevelSnapshot.ExitForecast leaving, LocalDate today, Locale locale) {
		boolean high = leaving.end() == RangeEnd.HIGH;
		String limit = number(level, leaving.limit());
		if (high ? now.middle() > leaving.limit() : now.middle() < leaving.limit()) {
			return text(locale, high ? "season.sentence.over" : "season.sentence.under", limit);
		}
		LocalDate middle = leaving.day();
		if (middle == null) {
			return text(locale, high ? "season.sentence.notAbove" : "season.sentence.notBelow", limit,
					percent(leaving.probabilityBySeasonEnd()));
		}
		LocalDate early = (leaving.early() != null) ? leaving.early() : middle;
		String key = high ? "season.sentence.reaches" : "season.sentence.falls";
		if (!middle.isAfter(today)) {
			return text(locale, high ? "season.sentence.atHigh" : "season.sentence.atLow", limit);
		}
		return (leaving.late() != null) ? text(locale, key, limit, day(middle, locale), day(early, locale), day(leaving.late(), locale))
				: text(locale, key + "Open", limit, day(middle, locale), day(early, locale));
	}

	/** "Jul 14 (80 %: Jul 2 to Jul 30)", "now", or "–" where no day is expected. */
	public String exitDay(LevelSnapshot snapshot, LocalDate today, Locale locale) {
		LevelSnapshot.ExitForecast leaving = snapshot.exit();
		LocalDate day = (leaving != null) ? leaving.day() : null;
		if (leaving == null || day == null) {
			return "–";
		}
		if (!day.isAfter(today)) {
			return text(locale, "season.day.now");
		}
		LocalDate early = (leaving.early() != null) ? leaving.early() : day;
		return (leaving.late() != null) ? text(locale, "season.day", day(day, locale), day(early, locale), day(leaving.late(), locale))
				: text(locale, "season.day.open", day(day, locale), day(early, locale));
	}

	/** Why a flag stands: how likely, on which readings, and what moved the level. Empty when none does. */
	public List<String> reasons(LevelSnapshot snapshot, Locale locale) {
		LevelSnapshot.FlagSnapshot flag = snapshot.flag();
		if (flag == null) {
			return List.of();
		}
		List<String> reasons = reasons(snapshot.level(), flag, snapshot.evidence().range(), snapshot.evidence().readings(), locale);
		Long from = snapshot.evidence().causesFrom();
		List<String> causes = snapshot.evidence()
			.causes()
			.entrySet()
			.stream()
			.filter(cause -> Math.abs(cause.getValue()) >= MIN_CAUSE_PPM)
			.sorted(Map.Entry.<DriftCause, Double>comparingByValue(Comparator.comparingDouble(part -> -Math.abs(part))))
			.map(cause -> cause(cause.getKey(), locale) + " " + signed(cause.getValue()))
			.toList();
		if (from != null && !causes.isEmpty()) {
			reasons.add(text(locale, "season.reason.causes", day(from, locale), String.join(", ", causes)));
		}
		return reasons;
	}

	/** The same for a level that was just worked out; its causes are listed. */
	public List<String> reasons(LevelDrift drift, List<LevelTrend.LevelReading> readings, Locale locale) {
		LevelDrift.Flag flag = drift.flag();
		return (flag == null) ? List.of()
				: reasons(drift.level(), LevelSnapshot.FlagSnapshot.of(flag), drift.range(),
						readings.stream().map(DriftEvidence.PlottedReading::of).toList(), locale);
	}

	private List<String> reasons(Level level, LevelSnapshot.FlagSnapshot flag, @Nullable Range range,
			List<DriftEvidence.PlottedReading> readings,
			Locale locale) {
		List<String> reasons = new ArrayList<>();
		double limit = (range == null) ? 0 : (flag.end() == RangeEnd.HIGH) ? range.acceptableHigh() : range.acceptableLow();
		reasons.add(text(locale, (flag.end() == RangeEnd.HIGH) ? "season.reason.high" : "season.reason.low", day(flag.since(), locale),
				percent(flag.probability()), number(level, limit), FLAG_WEEKS));
		if (!readings.isEmpty()) {
			List<String> last = readings.subList(Math.max(0, readings.size() - MAX_READINGS), readings.size())
				.stream()
				.map(reading -> text(locale, "season.reason.reading", reading(level, reading.value(), reading.qualifier()),
						day(reading.day(), locale)))
				.toList();
			reasons.add(text(locale, "season.reason.readings", String.join(", ", last)));
		}
		return reasons;
	}

	/** What a cause is called. */
	public String cause(DriftCause cause, Locale locale) {
		return text(locale, "season.cause." + cause.name());
	}

	/** What a reader should know besides. */
	public List<String> notes(Level level, List<DriftNote> notes, Locale locale) {
		List<String> sentences = new ArrayList<>();
		for (DriftNote note : notes) {
			List<Double> figures = note.figures();
			String key = "season.note." + note.code().name();
			sentences.add(switch (note.code()) {
				case READING_DOUBTED -> text(locale, key, day(figures.get(0).longValue(), locale), number(level, figures.get(1)),
						number(level, figures.get(2)));
				case READINGS_SWAPPED -> text(locale, key, day(figures.get(0).longValue(), locale));
				// stored before its probability was
				case WATER_REPLACED -> text(locale, key, day(figures.get(0).longValue(), locale), Math.round(100 * figures.get(1)),
						(figures.size() > 2) ? percent(figures.get(2)) : "–");
				case LEAK_SUSPECTED -> text(locale, key, percent(figures.get(0)), Math.round(figures.get(1)));
				case REAGENT_DOUBTED -> text(locale, key, day(figures.get(0).longValue(), locale),
						Math.round(100 * Math.abs(figures.get(1) - 1)), (figures.get(1) < 1) ? 0 : 1, percent(figures.get(2)));
				case VOLUME_CHANGED -> text(locale, key, day(figures.get(0).longValue(), locale),
						String.format(locale, "%.1f", figures.get(1)), percent(figures.get(2)));
				case DOSE_DOUBTED -> text(locale, key, day(figures.get(0).longValue(), locale), number(level, figures.get(1)));
				case SCALE_ENDED -> text(locale, key, figures.isEmpty() ? "–" : number(level, figures.get(0)));
				case VOLUME_DOUBTED -> text(locale, key);
				case TOO_WIDE -> text(locale, key, number(level, figures.get(0)), number(level, figures.get(1)));
				case STALE, STRENGTH_UNKNOWN, RESTARTED ->
					text(locale, key, figures.isEmpty() ? 0 : Math.round(figures.get(0)));
				default -> text(locale, key);
			});
		}
		return sentences;
	}

	/** "72 %"; an estimate is never none and never certain. */
	public static String percent(double probability) {
		long percent = Math.round(100 * probability);
		return (percent < 1) ? "< 1 %" : (percent > 99) ? "> 99 %" : percent + " %";
	}

	/** "about 92 ppm (80 %: 84 to 100)", or what was last found. */
	public String today(LevelTrend trend, Locale locale) {
		LevelTrend.LevelReading newest = trend.newest();
		AlkalinityTrend alkalinity = trend.alkalinity();
		if (alkalinity != null) {
			Band today = alkalinity.today();
			return text(locale, "season.band", value(trend.level(), today.middle()), number(trend.level(), today.low()),
					number(trend.level(), today.high()));
		}
		return (newest != null) ? reading(trend.level(), newest.value(), newest.qualifier()) : "–";
	}

	/** What moves the level, per week, what is on record apart from the rest; empty when it is not known. */
	public List<String> causes(LevelTrend trend, Locale locale) {
		AlkalinityTrend.Drift drift = (trend.alkalinity() != null) ? trend.alkalinity().drift() : null;
		if (drift == null) {
			return List.of();
		}
		List<String> causes = new ArrayList<>();
		drift.byProduct()
			.entrySet()
			.stream()
			.sorted(Map.Entry.<String, Double>comparingByValue().reversed().thenComparing(Map.Entry.comparingByKey()))
			.forEach(entry -> causes.add(text(locale, "season.cause.product", entry.getKey(), signed(entry.getValue()))));
		Band other = drift.unrecorded();
		causes.add(text(locale, "season.cause.other", signed(other.middle()), signed(other.low()), signed(other.high())));
		return causes;
	}

	/** What a reader should know besides: too few tests, an old test, doses that could not be counted. */
	public List<String> remarks(LevelTrend trend, LocalDate today, Locale locale) {
		List<String> remarks = new ArrayList<>();
		AlkalinityTrend alkalinity = trend.alkalinity();
		if (alkalinity != null && alkalinity.drift() == null) {
			remarks.add(text(locale, "season.remark.few", alkalinity.readings(), AlkalinityTrend.MIN_READINGS));
		}
		LevelTrend.LevelReading newest = trend.newest();
		long age = (newest != null) ? ChronoUnit.DAYS.between(newest.day(), today) : 0;
		if (age > ((trend.level() == Level.TA) ? STALE_ALKALINITY_DAYS : STALE_DAYS)) {
			remarks.add(text(locale, "season.remark.stale", Wording.decimal(age, 0)));
		}
		if (trend.unknownDoses() > 0) {
			remarks.add(text(locale, "season.remark.doses", trend.unknownDoses()));
		}
		return remarks;
	}

	/** A reading as it was taken: "92 ppm", "< 30 ppm". */
	public static String reading(Level level, double value, ReadingQualifier qualifier) {
		return ((qualifier == ReadingQualifier.EXACT) ? "" : qualifier.sign() + " ") + value(level, value);
	}

	/** "92 ppm", "7.5". */
	public static String value(Level level, double value) {
		return number(level, value) + ((level.unit() == Level.Unit.PPM) ? " ppm" : "");
	}

	/** In the digits the level is stated with. */
	public static String number(Level level, double value) {
		return Wording.number(level, value);
	}

	/** "+1.8", "−0.4", "0.0". */
	public static String signed(double perWeek) {
		String digits = rate(Math.abs(perWeek));
		return digits.equals("0.0") ? digits : ((perWeek > 0) ? "+" : "−") + digits;
	}

	private static String rate(double perWeek) {
		return Wording.decimal(perWeek, (perWeek < 9.95) ? 1 : 0);
	}

	private String weeks(double weeks, Locale locale) {
		return text(locale, "season.sentence.weeks", (long) Math.max(1, Math.round(weeks)));
	}

	static String day(long epochDay, Locale locale) {
		return day(LocalDate.ofEpochDay(epochDay), locale);
	}

	static String day(LocalDate day, Locale locale) {
		return day.format(DateTimeFormatter.ofPattern(locale.getLanguage().equals("es") ? "d MMM" : "MMM d", locale));
	}

	private String text(Locale locale, String key, Object... args) {
		return messages.getMessage(key, args, locale);
	}

}
