package org.meniscus.report.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.report.DoseReason;
import org.meniscus.report.Report;
import org.meniscus.report.web.ReportPage.AddedLine;
import org.meniscus.report.web.ReportPage.LevelLine;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.LevelRule;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.DatedFollowUp;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.LevelState.State;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Says a report in plain words for somebody who does not test water, in the reader's language and the company's units. */
@Component
class ReportFormatter {

	/** What a homeowner is shown, most telling first; total chlorine is left out, it is the sum of two others. */
	private static final List<Level> SHOWN = List.of(Level.FC, Level.BROMINE, Level.PH, Level.CC, Level.TA, Level.CH, Level.CYA,
			Level.SALT, Level.TDS, Level.BORATE, Level.PHOSPHATE, Level.COPPER, Level.IRON, Level.MANGANESE,
			Level.AMMONIA, Level.TEMPERATURE);

	private final MessageSource messages;

	ReportFormatter(MessageSource messages) {
		this.messages = messages;
	}

	ReportPage page(Report report, Locale locale) {
		UnitSystem units = report.company().units();
		ZoneId zone = report.company().zone();
		String situation = (report.situation() == Situation.ROUTINE) ? null
				: text(locale, "report.situation." + report.situation().name());
		List<LevelLine> levels = SHOWN.stream()
			.filter(level -> report.readings().value(level) != null)
			.map(level -> level(report, level, locale))
			.toList();
		List<AddedLine> added = report.added()
			.stream()
			.map(dose -> new AddedLine(dose.product(), QuantityFormatter.amount(units, dose.unit(), dose.amount()),
					reasons(dose.reason(), units, locale)))
			.toList();
		Double share = report.waterReplaced();
		return new ReportPage(report.company().name(), report.poolName(), fullDate(report.performedOn(), locale), situation,
				summary(report, locale), report.swim().closed(), swim(report, zone, units, locale),
				conditions(report.swim(), units, locale), levels, added,
				(share != null) ? text(locale, "report.replaced", Wording.decimal(share * 100, 0)) : null, tasks(report, locale),
				report.note(), report.photos(), (report.next() != null) ? fullDate(report.next(), locale) : null,
				followUps(report.followUps(), locale), describeExit(report.expectedExit(), report.performedOn(), locale),
				QuantityFormatter.date(LocalDate.ofInstant(report.expiresAt(), zone), locale));
	}

	private LevelLine level(Report report, Level level, Locale locale) {
		UnitSystem units = report.company().units();
		double value = Objects.requireNonNull(report.readings().value(level));
		String name = name(level, locale);
		String words = qualifier(report.readings().qualifier(level)) + Wording.level(level, value, units);
		LevelState state = report.assessment().state(level);
		// a temperature is ruled in degrees Celsius, which a US page never shows
		LevelRule rule = (state == null || level == Level.TEMPERATURE) ? null : rule(name, level, value, state);
		return new LevelLine(name, text(locale, "report.about." + level.name()), rule, words);
	}

	private static LevelRule rule(String name, Level level, double value, LevelState state) {
		String unit = switch (level.unit()) {
			case PPM -> "ppm";
			case PPB -> "ppb";
			case PH, INDEX, CELSIUS -> "";
		};
		return LevelRule.of(name, unit, state.state().name(), state.range(), value, state.qualifier(), null, level.decimals());
	}

	/** How the water was found: what was out of range, what was near its edge, or that all was well. */
	private List<String> summary(Report report, Locale locale) {
		List<String> out = names(report, State.OUT_OF_RANGE, locale);
		List<String> drifting = names(report, State.DRIFTING, locale);
		List<String> sentences = new ArrayList<>();
		if (!out.isEmpty()) {
			sentences.add(text(locale, "report.summary.out", String.join(", ", out)));
		}
		if (!drifting.isEmpty()) {
			sentences.add(text(locale, "report.summary.drifting", String.join(", ", drifting)));
		}
		if (sentences.isEmpty()) {
			boolean assessed = SHOWN.stream().anyMatch(level -> report.assessment().state(level) != null);
			sentences.add(text(locale, assessed ? "report.summary.fine" : "report.summary.untested"));
		}
		return sentences;
	}

	private List<String> names(Report report, State state, Locale locale) {
		return SHOWN.stream().filter(level -> {
			LevelState found = report.assessment().state(level);
			return found != null && found.state() == state;
		}).map(level -> lowerCaseFirst(name(level, locale))).toList();
	}

	/** A name inside a sentence; pH keeps its own letters. */
	private static String lowerCaseFirst(String name) {
		return Character.toLowerCase(name.charAt(0)) + name.substring(1);
	}

	private List<String> reasons(DoseReason why, UnitSystem units, Locale locale) {
		List<String> sentences = new ArrayList<>();
		Situation situation = why.situation();
		if (situation != null) {
			sentences.add(text(locale, "report.indication." + situation.name()));
		}
		LevelState off = why.level();
		if (off != null) {
			Level level = off.level();
			Range range = off.range();
			sentences.add(text(locale, (off.direction() == LevelState.Direction.LOW) ? "report.was.low" : "report.was.high",
					name(level, locale), qualifier(off.qualifier()) + Wording.level(level, off.value(), units),
					Wording.number(level, range.idealLow()), Wording.number(level, range.idealHigh())));
		}
		sentences.add(text(locale, "report.effect." + why.ingredient().name()));
		return sentences;
	}

	private String swim(Report report, ZoneId zone, UnitSystem units, Locale locale) {
		if (report.swim().closed()) {
			String closed = text(locale, SwimReadiness.CLOSED.key());
			return report.swim().needsTreatment() ? closed + " " + text(locale, "report.swim.until-told") : closed;
		}
		Instant readyAt = report.swimReadyAt();
		if (readyAt == null) {
			return text(locale, "report.swim.ready");
		}
		ZonedDateTime time = readyAt.atZone(zone);
		String clock = time.format(DateTimeFormatter.ofPattern((units == UnitSystem.US) ? "h:mm a" : "HH:mm", locale));
		return text(locale, "report.swim.from", clock, fullDate(time.toLocalDate(), locale));
	}

	/** What whoever swims can test, see or wait for; the rest is the company's to say. */
	private List<String> conditions(SwimReadiness swim, UnitSystem units, Locale locale) {
		List<String> conditions = new ArrayList<>();
		for (SwimReadiness.Condition condition : swim.conditions()) {
			boolean described = switch (condition.evidence()) {
				case SIGHT, TEST, TIME_OF_TEST -> true;
				case TIME -> swim.closed();
				case KNOWN, TREATMENT -> false;
			};
			if (described) {
				Object[] figures = condition.reason()
					.args()
					.stream()
					.map(figure -> Wording.format(figure, units, (key, args) -> text(locale, key, args)))
					.toArray();
				conditions.add(text(locale, "report." + condition.reason().code(), figures));
			}
		}
		return conditions;
	}

	private List<String> tasks(Report report, Locale locale) {
		List<String> tasks = new ArrayList<>();
		for (String task : report.tasks()) {
			String words = messages.getMessage("visit.task." + task, null, "", locale);
			if (words != null && !words.isEmpty()) {
				tasks.add(words);
			}
		}
		return tasks;
	}

	/** The same on days that follow each other is said once. */
	private List<String> followUps(List<DatedFollowUp> steps, Locale locale) {
		List<String> lines = new ArrayList<>();
		for (int i = 0; i < steps.size(); i++) {
			DatedFollowUp first = steps.get(i);
			DatedFollowUp last = first;
			String sentence = describe(first, locale);
			while (i + 1 < steps.size() && describe(steps.get(i + 1), locale).equals(sentence)) {
				last = steps.get(++i);
			}
			lines.add(last.day().equals(first.day())
					? text(locale, "report.followUp.on", QuantityFormatter.weekdayAndDate(first.day(), locale), sentence)
					: text(locale, "report.followUp.from", QuantityFormatter.weekdayAndDate(first.day(), locale),
							QuantityFormatter.weekdayAndDate(last.day(), locale), sentence));
		}
		return lines.stream().distinct().toList();
	}

	/** In plain words; what a plan of another version says is called a next step. */
	private String describe(DatedFollowUp step, Locale locale) {
		String other = text(locale, "report.followUp.other");
		return Objects.requireNonNull(messages.getMessage("report.followUp." + step.reason().code(), null, other, locale));
	}

	/** One sentence, or null. */
	private @Nullable String describeExit(Report.@Nullable ExpectedExit ahead, LocalDate visit, Locale locale) {
		if (ahead == null) {
			return null;
		}
		LocalDate late = ahead.late();
		String days = (late != null)
				? text(locale, "report.forecast.between", QuantityFormatter.date(ahead.early(), locale),
						QuantityFormatter.date(late, locale))
				: text(locale, "report.forecast.from", QuantityFormatter.date(ahead.early(), locale));
		String when = ahead.day().isAfter(visit.plusWeeks(1))
				? text(locale, "report.forecast.about", QuantityFormatter.date(ahead.day(), locale), days)
				: text(locale, "report.forecast.soon");
		return text(locale, ahead.rising() ? "report.forecast.rising" : "report.forecast.falling", name(ahead.level(), locale),
				Wording.number(ahead.level(), ahead.limit()), when);
	}

	private String name(Level level, Locale locale) {
		return LevelNames.plainName(level, (key, arguments) -> text(locale, key, arguments));
	}

	private static String qualifier(ReadingQualifier qualifier) {
		return (qualifier == ReadingQualifier.EXACT) ? "" : qualifier.sign() + " ";
	}

	private static String fullDate(LocalDate day, Locale locale) {
		return day.format(DateTimeFormatter.ofPattern(locale.getLanguage().equals("es") ? "EEEE d 'de' MMMM" : "EEEE, MMMM d", locale));
	}

	private String text(Locale locale, String key, Object... args) {
		return messages.getMessage(key, args, locale);
	}

}
