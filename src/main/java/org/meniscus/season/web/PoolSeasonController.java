package org.meniscus.season.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.season.LevelTrend;
import org.meniscus.season.PoolDrift;
import org.meniscus.season.SeasonFormatter;
import org.meniscus.season.SeasonService;
import org.meniscus.season.WhatIfService;
import org.meniscus.season.web.PoolPage.ChartDataRow;
import org.meniscus.season.web.PoolPage.LevelView;
import org.meniscus.season.web.PoolPage.VisitLine;
import org.meniscus.ui.EquipmentFormatter;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.LevelRule;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.PlannedStops;
import org.meniscus.visit.PlannedWorkService;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.drift.DriftCause;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.LevelDrift.SuggestedTest;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;

/** One pool: what it is, where its levels stand and have been, what was put in, who was there. */
@Controller
@StaffOnly
class PoolSeasonController {

	private static final List<Level> VISIT_LINE_LEVELS = List.of(Level.FC, Level.PH, Level.TA, Level.CH, Level.CYA, Level.SALT);

	private static final List<Level> DRIFTING_LEVELS = List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS, Level.BORATE);

	private static final int MIN_FORECAST_WEEKS = 8;

	private static final int MAX_FORECAST_WEEKS = 26;

	private final SeasonService seasons;

	private final SeasonFormatter formatter;

	private final VisitService visits;

	private final PlannedStops stops;

	private final PlannedWorkService plannedWork;

	private final WhatIfService whatIf;

	private final WhatIfFormatter whatIfFormatter;

	private final CompanyService companies;

	private final MessageSource messages;

	private final Clock clock;

	PoolSeasonController(SeasonService seasons, SeasonFormatter words, VisitService visits, PlannedStops stops, PlannedWorkService work,
			WhatIfService whatIf,
			WhatIfFormatter writing, CompanyService companies, MessageSource messages, Clock clock) {
		this.seasons = seasons;
		this.formatter = words;
		this.visits = visits;
		this.stops = stops;
		this.plannedWork = work;
		this.whatIf = whatIf;
		this.whatIfFormatter = writing;
		this.companies = companies;
		this.messages = messages;
		this.clock = clock;
	}

	/** @param span {@code year} for the last twelve months, anything else for the last half year */
	@GetMapping("/pools/{id}")
	String pool(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam(required = false) @Nullable String span,
			WhatIfForm form, Locale locale, Model model) {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = LocalDate.now(clock.withZone(company.zone()));
		PoolId pool = new PoolId(id);
		if (!me.hasOfficeAccess() && !stops.mayVisit(me, pool, today)) {
			throw new NotFound("pool");
		}
		boolean year = "year".equals(span);
		LocalDate from = year ? today.minusMonths(12) : today.minusWeeks(26);
		List<LevelTrend> trends = seasons.trends(me.company(), pool, from, today);
		PoolDrift drift = seasons.drift(me.company(), pool, today);
		model.addAttribute("pool", page(trends, drift, visits.history(me.company(), pool, from), from, today, company.units(), locale));
		model.addAttribute("closed", visits.closed(me.company(), List.of(pool)).contains(pool));
		model.addAttribute("year", year);
		model.addAttribute("work", plannedWork.open(me.company(), pool).stream().map(one -> one.text(texts(locale), locale)).toList());
		if (me.hasOfficeAccess() && !drift.pool().archived()) {
			WhatIfForm.ParsedQuestion read = form.parse(company.currency());
			model.addAttribute("form", form);
			model.addAttribute("invalidFields", read.invalidFields());
			model.addAttribute("whatIf", whatIf.answer(me.company(), pool, read.question())
				.map(answer -> whatIfFormatter.format(answer, drift, today, company.currency(), locale))
				.orElse(null));
		}
		return "season/pool";
	}

	private PoolPage page(List<LevelTrend> trends, PoolDrift drift, List<VisitRecord> history, LocalDate from, LocalDate today,
			UnitSystem units,
			Locale locale) {
		PoolSummary pool = drift.pool();
		Volume volume = pool.facts().volume();
		List<LevelView> levels = new ArrayList<>();
		for (Level level : DRIFTING_LEVELS) {
			drift.drift().level(level).ifPresent(assessed -> levels.add(view(assessed, drift, from, today, locale)));
		}
		trends.forEach(level -> levels.add(view(level, from, today, locale)));
		List<VisitLine> lines = history.stream().map(visit -> line(visit, units, locale)).toList();
		return new PoolPage(pool.id().value(), pool.client().value(), pool.name(), pool.clientName(),
				String.join(", ", List.of(pool.street(), pool.town()).stream().filter(part -> !part.isEmpty()).toList()),
				(volume != null) ? QuantityFormatter.volume(units, volume.litres()) : null, pool.facts().surface().name(),
				pool.facts().sanitizer().name(), pool.facts().indoor(), pool.facts().certainty().name(), pool.facts().body().name(),
				EquipmentFormatter.describe(pool.equipmentNotes(), pool.facts().equipment(), units,
						(key, arguments) -> messages.getMessage(key, arguments, locale)),
				pool.archived(), describeTrends(pool, history, units, locale), levels, lines);
	}

	/** How it uses up chlorine and where its pH goes. */
	private List<String> describeTrends(PoolSummary pool, List<VisitRecord> history, UnitSystem units, Locale locale) {
		return new PoolHistory(pool.facts(), VisitRecord.toHistory(history)).describe()
			.stream()
			.map(reason -> reason.format(units, texts(locale)))
			.toList();
	}

	private LevelView view(LevelDrift drift, PoolDrift pool, LocalDate from, LocalDate today, Locale locale) {
		Level level = drift.level();
		Range range = drift.range();
		Band now = drift.today();
		String name = formatter.name(level, locale);
		String state = formatter.state(now, range, drift.flag() != null);
		LevelRule rule = (range == null) ? null : rule(level, name, state, range, (now != null) ? now.middle() : null);
		List<LevelTrend.LevelReading> readings = pool.readings().getOrDefault(level, List.of());
		List<LevelTrend.LevelDose> doses = pool.doses().getOrDefault(level, List.of());
		LevelChart chart = readings.isEmpty() ? null
				: LevelChart.full(LevelChart.ChartSeries.of(drift, readings, doses), from, today, forecastWeeks(drift, today), locale);
		List<String> remarks = new ArrayList<>();
		SuggestedTest test = drift.suggestedTest();
		if (test != null) {
			remarks.add(messages.getMessage("pool.test", new Object[]{ SeasonFormatter.percent(test.probability()),
					SeasonFormatter.number(level, test.bandBefore()), SeasonFormatter.number(level, test.bandAfter()) }, locale));
		}
		remarks.addAll(formatter.notes(level, drift.notes(), locale));
		return new LevelView(name, level.name(), state, (now != null) ? SeasonFormatter.value(level, now.middle()) : "–",
				formatter.describe(drift, today, locale), rule, chart, formatter.reasons(drift, readings, locale), List.of(),
				balance(drift, locale), remarks, readings(level, readings, from, locale), doses(doses, from, locale));
	}

	/** As far as the forecast goes, so that the day of leaving shows; never less than what a flag speaks of. */
	private static int forecastWeeks(LevelDrift drift, LocalDate today) {
		long last = drift.forecast().isEmpty() ? 0 : drift.forecast().get(drift.forecast().size() - 1).day() - today.toEpochDay();
		return (int) Math.max(MIN_FORECAST_WEEKS, Math.min(MAX_FORECAST_WEEKS, last / 7));
	}

	/** Rounded so that the printed lines add up to the printed sum: the unrecorded part takes what rounding leaves over. */
	private PoolPage.@Nullable DriftBalance balance(LevelDrift drift, Locale locale) {
		LevelDrift.Causes causes = drift.causes();
		if (causes == null) {
			return null;
		}
		List<ChartDataRow> lines = new ArrayList<>();
		long sum = Math.round(10 * causes.change());
		long left = sum;
		for (DriftCause cause : DriftCause.values()) {
			long tenths = (cause == DriftCause.UNRECORDED) ? left : Math.round(10 * causes.part(cause));
			left -= tenths;
			if (tenths != 0) {
				lines.add(new ChartDataRow(formatter.cause(cause, locale), tenths(tenths), null));
			}
		}
		Band unrecorded = causes.unrecorded();
		return new PoolPage.DriftBalance(QuantityFormatter.date(LocalDate.ofEpochDay(causes.from()), locale), lines, tenths(sum),
				messages.getMessage("pool.why.band", new Object[]{ tenths(Math.round(10 * unrecorded.low())),
						tenths(Math.round(10 * unrecorded.high())) }, locale));
	}

	private static String tenths(long tenths) {
		return ((tenths > 0) ? "+" : (tenths < 0) ? "−" : "") + Wording.decimal(Math.abs(tenths) / 10.0, 1);
	}

	private static LevelRule rule(Level level, String name, String state, Range range, @Nullable Double now) {
		return LevelRule.of(name, (level.unit() == Level.Unit.PPM) ? "ppm" : "", state, range, now, ReadingQualifier.EXACT, null,
				level.decimals());
	}

	private static List<ChartDataRow> readings(Level level, List<LevelTrend.LevelReading> readings, LocalDate from, Locale locale) {
		List<ChartDataRow> lines = new ArrayList<>();
		readings.stream()
			.filter(reading -> !reading.day().isBefore(from))
			.forEach(reading -> lines.add(new ChartDataRow(QuantityFormatter.date(reading.day(), locale),
					SeasonFormatter.reading(level, reading.value(), reading.qualifier()), null)));
		Collections.reverse(lines);
		return lines;
	}

	private static List<ChartDataRow> doses(List<LevelTrend.LevelDose> doses, LocalDate from, Locale locale) {
		List<ChartDataRow> lines = new ArrayList<>();
		doses.stream()
			.filter(dose -> !dose.day().isBefore(from))
			.forEach(dose -> lines.add(new ChartDataRow(QuantityFormatter.date(dose.day(), locale), dose.product(),
					(dose.change() != null) ? SeasonFormatter.signed(dose.change()) : "–")));
		Collections.reverse(lines);
		return lines;
	}

	private LevelView view(LevelTrend season, LocalDate from, LocalDate today, Locale locale) {
		Range range = season.range();
		String state = season.state(today).name();
		String name = formatter.name(season.level(), locale);
		LevelRule rule = (range == null) ? null : rule(season.level(), name, state, range, season.now());
		LevelChart chart = season.readings().isEmpty() ? null
				: LevelChart.full(LevelChart.ChartSeries.of(season), from, today, 0, locale);
		return new LevelView(name, season.level().name(), state, formatter.today(season, locale),
				formatter.describe(season, today, locale), rule, chart, List.of(), formatter.causes(season, locale), null,
				formatter.remarks(season, today, locale),
				readings(season.level(), season.readings(), from, locale), doses(season.doses(), from, locale));
	}

	private VisitLine line(VisitRecord visit, UnitSystem units, Locale locale) {
		List<String> readings = new ArrayList<>();
		for (Level level : VISIT_LINE_LEVELS) {
			Double value = visit.readings().value(level);
			if (value != null) {
				readings.add(LevelNames.code(level, texts(locale)) + " "
						+ visit.readings().qualifier(level).sign() + Wording.number(level, value));
			}
		}
		List<String> doses = new ArrayList<>();
		for (DoseRecord dose : visit.doses()) {
			doses.add(dose.productName() + ": " + QuantityFormatter.amount(units, dose.unit(), dose.amount()));
		}
		String situation = messages.getMessage(Wording.situationKey(visit.situation()), null, "", locale);
		return new VisitLine(visit.id().value(), QuantityFormatter.weekdayAndDate(visit.performedOn(), locale), visit.technicianName(),
				(situation != null) ? situation : "", String.join(" · ", readings), String.join("; ", doses), visit.photos());
	}

	private Wording.Texts texts(Locale locale) {
		return (key, args) -> messages.getMessage(key, args, locale);
	}

}
