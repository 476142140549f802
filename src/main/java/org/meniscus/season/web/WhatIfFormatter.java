package org.meniscus.season.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.season.LevelTrend;
import org.meniscus.season.PoolDrift;
import org.meniscus.season.SeasonFormatter;
import org.meniscus.season.WhatIfService;
import org.meniscus.ui.Option;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.Scenario;
import org.meniscus.water.drift.Scenario.Change;
import org.meniscus.water.drift.Scenario.Outcome;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.units.DatedBand;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Puts what one might do into words, figures and small pictures. */
@Component
class WhatIfFormatter {

	private static final List<Level> LEVELS = List.of(Level.CYA, Level.CH, Level.SALT);

	private static final int WEEKS_SHOWN = 12;

	private static final int FORECAST_WEEKS = 20;

	private final SeasonFormatter formatter;

	private final MessageSource messages;

	private final UuidGenerator ids;

	WhatIfFormatter(SeasonFormatter words, MessageSource messages, UuidGenerator ids) {
		this.formatter = words;
		this.messages = messages;
		this.ids = ids;
	}

	WhatIfView format(WhatIfService.WhatIfAnswer answer, PoolDrift pool, LocalDate today, Currency currency, Locale locale) {
		WhatIfService.WhatIfSuggestion suggestion = answer.suggested();
		Level focus = (suggestion != null) ? suggestion.level() : pool.drift().firstToExit().orElse(Level.CYA);
		List<WhatIfView.ScenarioRow> rows = new ArrayList<>();
		rows.add(row(answer.baseline(), pool, focus, today, currency, locale));
		answer.asked().forEach(outcome -> rows.add(row(outcome, pool, focus, today, currency, locale)));
		return new WhatIfView(QuantityFormatter.weekdayAndDate(answer.from(), locale), rows,
				(suggestion != null) ? row(suggestion.outcome(), pool, focus, today, currency, locale) : null,
				(suggestion != null) ? text(locale, "pool.whatIf.why", formatter.name(suggestion.level(), locale),
						SeasonFormatter.percent(suggestion.exceedanceNow()), SeasonFormatter.percent(suggestion.exceedanceThen())) : null,
				answer.unpriced(),
				WhatIfForm.CHLORINE_PRODUCTS.stream()
					.map(kind -> new Option(kind.name(), text(locale, "pool.whatIf.chlorine." + kind.name())))
					.toList(),
				WhatIfForm.DRAIN_PERCENTS);
	}

	private WhatIfView.ScenarioRow row(Outcome outcome, PoolDrift pool, Level focus, LocalDate today, Currency currency, Locale locale) {
		List<String> leads = new ArrayList<>();
		for (Level level : LEVELS) {
			List<DatedBand> ahead = outcome.forecast().get(level);
			if (ahead != null && !ahead.isEmpty() && outcome.exitProbability().containsKey(level)) {
				leads.add(forecast(level, ahead.get(ahead.size() - 1), outcome.exitProbability().get(level), locale));
			}
		}
		return new WhatIfView.ScenarioRow(describe(outcome.scenario(), locale), leads, chart(outcome, pool, focus, today),
				costs(outcome.cost(), currency), workButton(outcome.scenario()));
	}

	private String forecast(Level level, DatedBand end, Map<RangeEnd, Double> leaving, Locale locale) {
		double high = leaving.getOrDefault(RangeEnd.HIGH, 0.0);
		double low = leaving.getOrDefault(RangeEnd.LOW, 0.0);
		return text(locale, (high >= low) ? "pool.whatIf.leads.high" : "pool.whatIf.leads.low", formatter.name(level, locale),
				QuantityFormatter.date(LocalDate.ofEpochDay(end.day()), locale), SeasonFormatter.value(level, end.band().middle()),
				SeasonFormatter.number(level, end.band().low()), SeasonFormatter.number(level, end.band().high()),
				SeasonFormatter.percent(Math.max(high, low)));
	}

	private static @Nullable LevelChart chart(Outcome outcome, PoolDrift pool, Level focus, LocalDate today) {
		LevelDrift drift = pool.drift().levels().get(focus);
		List<DatedBand> ahead = outcome.forecast().get(focus);
		List<LevelTrend.LevelReading> readings = pool.readings().getOrDefault(focus, List.of());
		return (drift == null || ahead == null || readings.isEmpty()) ? null
				: LevelChart.sparkline(LevelChart.ChartSeries.of(drift, readings, List.of()).withForecast(ahead),
						today.minusWeeks(WEEKS_SHOWN), today,
						FORECAST_WEEKS);
	}

	private String describe(Scenario scenario, Locale locale) {
		if (scenario.changes().isEmpty()) {
			return text(locale, "pool.whatIf.now");
		}
		return String.join("; ", scenario.changes().stream().map(change -> describe(change, locale)).toList());
	}

	private String describe(Change change, Locale locale) {
		if (change instanceof Change.ProductSwitch product) {
			return text(locale, "pool.whatIf.product",
					text(locale, "pool.whatIf.chlorine." + product.shares().keySet().iterator().next().name()));
		}
		if (change instanceof Change.PartialDrain drain) {
			return text(locale, "pool.whatIf.drained", Math.round(100 * drain.share()));
		}
		if (change instanceof Change.FillWaterChange fill) {
			return text(locale, "pool.whatIf.filled", SeasonFormatter.number(Level.CH, fill.levels().getOrDefault(Level.CH, 0.0)));
		}
		return text(locale, "pool.whatIf.celled");
	}

	private static WhatIfView.@Nullable ScenarioCostText costs(Scenario.@Nullable Cost cost, Currency currency) {
		if (cost == null) {
			return null;
		}
		// the sum is that of the figures as printed
		long chemicals = Math.round(cost.chemicals());
		long water = Math.round(cost.water());
		long visits = Math.round(cost.visits());
		long equipment = Math.round(cost.equipment());
		return new WhatIfView.ScenarioCostText(QuantityFormatter.money(chemicals, currency), QuantityFormatter.money(water, currency),
				QuantityFormatter.money(visits, currency),
				QuantityFormatter.money(equipment, currency), QuantityFormatter.money(chemicals + water + visits + equipment, currency));
	}

	private WhatIfView.@Nullable WorkButton workButton(Scenario scenario) {
		Long drain = null;
		String chlorine = null;
		for (Change change : scenario.changes()) {
			if (change instanceof Change.PartialDrain partial) {
				drain = Math.round(100 * partial.share());
			}
			else if (change instanceof Change.ProductSwitch product) {
				chlorine = product.shares().keySet().iterator().next().name();
			}
		}
		return (drain == null && chlorine == null) ? null : new WhatIfView.WorkButton(drain, chlorine, ids.next(), ids.next());
	}

	private String text(Locale locale, String key, Object... args) {
		return messages.getMessage(key, args, locale);
	}

}
