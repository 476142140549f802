package org.meniscus.season;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.DriftCause;
import org.meniscus.water.drift.DriftNote;
import org.meniscus.water.drift.DriftSettings;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.RangeEnd;
import org.meniscus.water.drift.SeasonEstimate;
import org.meniscus.water.drift.SeasonEstimate.Drift;
import org.meniscus.water.drift.SeasonEstimate.Exit;
import org.meniscus.water.drift.SeasonEstimate.Today;
import org.meniscus.water.drift.TrendReason;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.Band;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Says in plain words what is known of a level over a season; the same sentence on every page, in the reader's language. */
@Component
public class SeasonFormatter {

	/** As many readings as one can look over. */
	private static final int MAX_READINGS = 4;

	private static final int FLAG_WEEKS = DriftSettings.HORIZON_DAYS / 7;

	/** ppm; less is no news. */
	private static final double MIN_CAUSE_PPM = 0.5;

	private final MessageSource messages;

	SeasonFormatter(MessageSource messages) {
		this.messages = messages;
	}

	/** The level's name to begin a sentence with: "Stabilizer (CYA)". */
	public String name(Level level, Locale locale) {
		return text(locale, "season.level." + level.name());
	}

	/** Such as "Stabilizer (CYA) 92 ppm, rising 1.8 a week; reaches 100 about Jan 2 (80 %: Dec 12 to Feb 3)." */
	public String describe(LevelTrend season, Locale locale) {
		List<String> parts = new ArrayList<>();
		parts.add(describeNow(season, locale));
		String ahead = describeForecast(season, locale);
		if (!ahead.isEmpty()) {
			parts.add(ahead);
		}
		return String.join("; ", parts) + ".";
	}

	private String describeNow(LevelTrend season, Locale locale) {
		SeasonEstimate estimate = season.estimate();
		String name = name(season.level(), locale);
		if (estimate.today() instanceof Today.Above above) {
			return text(locale, "season.say.above", name, value(season.level(), above.mark()));
		}
		if (estimate.today() instanceof Today.Below below) {
			return text(locale, "season.say.below", name, value(season.level(), below.mark()));
		}
		if (!(estimate.today() instanceof Today.Level level)) {
			boolean replaced = estimate.reason().code() == TrendReason.Code.WATER_REPLACED;
			return text(locale, replaced ? "season.say.replaced" : "season.say.unknown", name);
		}
		String value = value(season.level(), level.middle());
		Drift drift = estimate.drift();
		if (shortLived(season.level())) {
			Long last = estimate.lastReadingDay();
			return text(locale, "season.say.found", name, value, (last != null) ? day(last, locale) : "–");
		}
		if (drift == null) {
			return text(locale, "season.say.few", name, value);
		}
		String rate = rate(Math.abs(drift.perWeek()));
		if (!drift.signKnown() || rate.equals("0.0")) {
			return text(locale, "season.say.even", name, value);
		}
		return text(locale, (drift.perWeek() > 0) ? "season.say.rising" : "season.say.falling", name, value, rate);
	}

	private String describeForecast(LevelTrend season, Locale locale) {
		SeasonEstimate estimate = season.estimate();
		Range range = season.range();
		List<Double> figures = estimate.reason().figures();
		if (range == null) {
			return "";
		}
		switch (estimate.reason().code()) {
			case ABOVE_MAXIMUM :
				return text(locale, "season.say.over", number(season.level(), figures.get(1)));
			case BELOW_MINIMUM :
				return text(locale, "season.say.under", number(season.level(), figures.get(1)));
			case ABOVE_SCALE, BELOW_SCALE, NOT_MEASURED, WATER_REPLACED, NO_RANGE :
				return "";
			default :
				break;
		}
		Exit exit = estimate.exit();
		if (exit != null && estimate.drift() != null && estimate.drift().signKnown()) {
			String limit = number(season.level(), exit.limit());
			String key = exit.rising() ? "season.say.reaches" : "season.say.falls";
			return (exit.latest() != null)
					? text(locale, key, limit, day(exit.day(), locale), day(exit.earliest(), locale), day(exit.latest(), locale))
					: text(locale, key + "Open", limit, day(exit.day(), locale), day(exit.earliest(), locale));
		}
		return switch (estimate.reason().code()) {
			case ABOVE_IDEAL -> text(locale, "season.say.aboveIdeal", number(season.level(), range.idealHigh()));
			case BELOW_IDEAL -> text(locale, "season.say.belowIdeal", number(season.level(), range.idealLow()));
			case RISING_PAST_IDEAL, FALLING_PAST_IDEAL -> text(locale, "season.say.leavesIdeal",
					number(season.level(), figures.get(1)), weeks(figures.get(0), locale));
			default -> (estimate.drift() != null && !shortLived(season.level())) ? text(locale, "season.say.stays") : "";
		};
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
	public String describe(LevelSnapshot kept, LocalDate today, Locale locale) {
		return describe(kept.level(), kept.today(), kept.exit(), kept.evidence().notes(), today, locale);
	}

	/** The same for a level that was just worked out. */
	public String describe(LevelDrift drift, LocalDate today, Locale locale) {
		return describe(drift.level(), drift.today(), DriftSnapshots.exitForecast(drift), drift.notes(), today, locale);
	}

	private String describe(Level level, @Nullable Band now, LevelSnapshot.@Nullable ExitForecast leaving, List<DriftNote> notes,
			LocalDate today,
			Locale locale) {
		String name = name(level, locale);
		if (now == null) {
			boolean replaced = notes.stream().anyMatch(note -> note.code() == DriftNote.Code.WATER_REPLACED);
			return text(locale, replaced ? "season.say.replaced" : "season.say.unknown", name) + ".";
		}
		String told = name + " "
				+ text(locale, "season.band", value(level, now.middle()), number(level, now.low()), number(level, now.high()));
		return (leaving == null) ? told + "." : told + "; " + describeExit(level, now, leaving, today, locale) + ".";
	}

	/** "reaches 100 about Jul 14 (80 %: Jul 2 to Jul 30)" and what else can be said of leaving the range. */
	private String describeExit(Level level, Band now, LevelSnapshot.ExitForecast leaving, LocalDate today, Locale locale) {
		boolean high = leaving.side() == RangeEnd.HIGH;
		String limit = number(level, leaving.limit());
		if (high ? now.middle() > leaving.limit() : now.middle() < leaving.limit()) {
			return text(locale, high ? "season.say.over" : "season.say.under", limit);
		}
		LocalDate middle = leaving.day();
		if (middle == null) {
			return text(locale, high ? "season.say.notAbove" : "season.say.notBelow", limit, percent(leaving.probabilityBySeasonEnd()));
		}
		LocalDate early = (leaving.early() != null) ? leaving.early() : middle;
		String key = high ? "season.say.reaches" : "season.say.falls";
		if (!middle.isAfter(today)) {
			return text(locale, high ? "season.say.atHigh" : "season.say.atLow", limit);
		}
		return (leaving.late() != null) ? text(locale, key, limit, day(middle, locale), day(early, locale), day(leaving.late(), locale))
				: text(locale, key + "Open", limit, day(middle, locale), day(early, locale));
	}

	/** "Jul 14 (80 %: Jul 2 to Jul 30)", "now", or "–" where no day is expected. */
	public String exitDay(LevelSnapshot kept, LocalDate today, Locale locale) {
		LevelSnapshot.ExitForecast leaving = kept.exit();
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
	public List<String> reasons(LevelSnapshot kept, Locale locale) {
		LevelSnapshot.FlagSnapshot flag = kept.flag();
		if (flag == null) {
			return List.of();
		}
		List<String> reasons = reasons(kept.level(), flag, kept.evidence().range(), kept.evidence().readings(), locale);
		Long from = kept.evidence().causesFrom();
		List<String> causes = kept.evidence()
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

	/** The same for a level that was just worked out; its causes are told apart. */
	public List<String> reasons(LevelDrift drift, List<LevelTrend.LevelReading> readings, Locale locale) {
		LevelDrift.Flag flag = drift.flag();
		return (flag == null) ? List.of()
				: reasons(drift.level(),
						new LevelSnapshot.FlagSnapshot(flag.side(), LocalDate.ofEpochDay(flag.since()), flag.probability()),
						drift.range(),
						readings.stream()
							.map(reading -> new DriftEvidence.PlottedReading(reading.day().toEpochDay(), reading.value(),
									reading.qualifier()))
							.toList(),
						locale);
	}

	private List<String> reasons(Level level, LevelSnapshot.FlagSnapshot flag, @Nullable Range range,
			List<DriftEvidence.PlottedReading> readings,
			Locale locale) {
		List<String> reasons = new ArrayList<>();
		double limit = (range == null) ? 0 : (flag.side() == RangeEnd.HIGH) ? range.acceptableHigh() : range.acceptableLow();
		reasons.add(text(locale, (flag.side() == RangeEnd.HIGH) ? "season.reason.high" : "season.reason.low", day(flag.since(), locale),
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
		List<String> told = new ArrayList<>();
		for (DriftNote note : notes) {
			List<Double> figures = note.figures();
			String key = "season.note." + note.code().name();
			told.add(switch (note.code()) {
				case READING_DOUBTED -> text(locale, key, day(figures.get(0).longValue(), locale), number(level, figures.get(1)),
						number(level, figures.get(2)));
				case READINGS_SWAPPED -> text(locale, key, day(figures.get(0).longValue(), locale));
				case DOSE_DOUBTED -> text(locale, key, day(figures.get(0).longValue(), locale), number(level, figures.get(1)));
				case SCALE_ENDED -> text(locale, key, figures.isEmpty() ? "–" : number(level, figures.get(0)));
				case VOLUME_DOUBTED -> text(locale, key);
				case TOO_WIDE -> text(locale, key, number(level, figures.get(0)), number(level, figures.get(1)));
				case STALE, STRENGTH_UNKNOWN, RESTARTED ->
					text(locale, key, figures.isEmpty() ? 0 : Math.round(figures.get(0)));
				default -> text(locale, key);
			});
		}
		return told;
	}

	/** "72 %"; an estimate is never none and never certain. */
	public static String percent(double probability) {
		long percent = Math.round(100 * probability);
		return (percent < 1) ? "< 1 %" : (percent > 99) ? "> 99 %" : percent + " %";
	}

	/** "about 92 ppm (80 %: 84 to 100)", or the bound that the test's scale allows. */
	public String today(LevelTrend season, Locale locale) {
		if (season.estimate().today() instanceof Today.Level level) {
			String middle = value(season.level(), level.middle());
			return shortLived(season.level()) ? middle
					: text(locale, "season.band", middle, number(season.level(), level.low()), number(season.level(), level.high()));
		}
		if (season.estimate().today() instanceof Today.Above above) {
			return "> " + value(season.level(), above.mark());
		}
		if (season.estimate().today() instanceof Today.Below below) {
			return "< " + value(season.level(), below.mark());
		}
		return "–";
	}

	/** What moves the level, per week, what is on record apart from the rest; empty when it cannot be told. */
	public List<String> causes(LevelTrend season, Locale locale) {
		Drift drift = season.estimate().drift();
		if (drift == null || shortLived(season.level())) {
			return List.of();
		}
		List<String> causes = new ArrayList<>();
		drift.bySource()
			.entrySet()
			.stream()
			.sorted(Map.Entry.<String, Double>comparingByValue().reversed().thenComparing(Map.Entry.comparingByKey()))
			.forEach(entry -> causes.add(text(locale, "season.cause.product", entry.getKey(), signed(entry.getValue()))));
		causes.add(Double.isInfinite(drift.otherLow()) || Double.isInfinite(drift.otherHigh())
				? text(locale, "season.cause.otherOpen", signed(drift.other()))
				: text(locale, "season.cause.other", signed(drift.other()), signed(drift.otherLow()), signed(drift.otherHigh())));
		return causes;
	}

	/** What a reader should know besides: too few tests, an old test, doses that could not be counted. */
	public List<String> remarks(LevelTrend season, Locale locale) {
		List<String> remarks = new ArrayList<>();
		for (TrendReason remark : season.estimate().remarks()) {
			List<Double> figures = remark.figures();
			switch (remark.code()) {
				case TOO_FEW_READINGS -> {
					if (!shortLived(season.level())) {
						remarks.add(text(locale, "season.remark.few", Math.round(figures.get(0)), Math.round(figures.get(1))));
					}
				}
				case STALE -> remarks.add(text(locale, "season.remark.stale", Wording.decimal(figures.get(0), 0)));
				default -> {
				}
			}
		}
		if (season.unknownDoses() > 0 && !shortLived(season.level())) {
			remarks.add(text(locale, "season.remark.doses", season.unknownDoses()));
		}
		return remarks;
	}

	/** A reading as it was taken: "92 ppm", "< 30 ppm". */
	public static String reading(Level level, double value, ReadingQualifier mark) {
		return ((mark == ReadingQualifier.EXACT) ? "" : mark.sign() + " ") + value(level, value);
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

	private static boolean shortLived(Level level) {
		return level == Level.FC || level == Level.PH;
	}

	private static String rate(double perWeek) {
		return Wording.decimal(perWeek, (perWeek < 9.95) ? 1 : 0);
	}

	private String weeks(double weeks, Locale locale) {
		return text(locale, "season.say.weeks", (long) Math.max(1, Math.round(weeks)));
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
