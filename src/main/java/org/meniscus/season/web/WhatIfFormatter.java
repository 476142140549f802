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
import org.meniscus.water.drift.DriftBand;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.RangeEnd;
import org.meniscus.water.drift.Scenario.Change;
import org.meniscus.water.drift.Scenario.Outcome;
import org.meniscus.water.drift.Scenario;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.pool.Level;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Puts what one might do into words, figures and small pictures. */
@Component
class WhatIfFormatter {

	private static final List<Level> TOLD = List.of(Level.CYA, Level.CH, Level.SALT);

	private static final int WEEKS_SHOWN = 12;

	private static final int WEEKS_AHEAD = 20;

	private final SeasonFormatter words;

	private final MessageSource messages;

	private final UuidGenerator ids;

	WhatIfFormatter(SeasonFormatter words, MessageSource messages, UuidGenerator ids) {
		this.words = words;
		this.messages = messages;
		this.ids = ids;
	}

	WhatIfView write(WhatIfService.Answer answer, PoolDrift pool, LocalDate today, Currency currency, Locale locale) {
		WhatIfService.Suggestion suggestion = answer.suggested();
		Level focus = (suggestion != null) ? suggestion.level() : pool.drift().first().map(SeasonDrift.First::level).orElse(Level.CYA);
		List<WhatIfView.Row> rows = new ArrayList<>();
		rows.add(row(answer.asNow(), pool, focus, today, currency, locale));
		answer.asked().forEach(outcome -> rows.add(row(outcome, pool, focus, today, currency, locale)));
		return new WhatIfView(QuantityFormatter.day(answer.from(), locale), rows,
				(suggestion != null) ? row(suggestion.outcome(), pool, focus, today, currency, locale) : null,
				(suggestion != null) ? text(locale, "pool.if.why", words.name(suggestion.level(), locale),
						SeasonFormatter.percent(suggestion.beyondNow()), SeasonFormatter.percent(suggestion.beyondThen())) : null,
				answer.unpriced(),
				WhatIfForm.CHLORINES.stream().map(kind -> new Option(kind.name(), text(locale, "pool.if.chlorine." + kind.name()))).toList(),
				WhatIfForm.DRAINS);
	}

	private WhatIfView.Row row(Outcome outcome, PoolDrift pool, Level focus, LocalDate today, Currency currency, Locale locale) {
		List<String> leads = new ArrayList<>();
		for (Level level : TOLD) {
			List<DriftBand.Dated> ahead = outcome.ahead().get(level);
			if (ahead != null && !ahead.isEmpty() && outcome.leaving().containsKey(level)) {
				leads.add(leads(level, ahead.get(ahead.size() - 1), outcome.leaving().get(level), locale));
			}
		}
		return new WhatIfView.Row(what(outcome.scenario(), locale), leads, picture(outcome, pool, focus, today),
				costs(outcome.cost(), currency), plan(outcome.scenario()));
	}

	private String leads(Level level, DriftBand.Dated end, Map<RangeEnd, Double> leaving, Locale locale) {
		double high = leaving.getOrDefault(RangeEnd.HIGH, 0.0);
		double low = leaving.getOrDefault(RangeEnd.LOW, 0.0);
		return text(locale, (high >= low) ? "pool.if.leads.high" : "pool.if.leads.low", words.name(level, locale),
				QuantityFormatter.date(LocalDate.ofEpochDay(end.day()), locale), SeasonFormatter.value(level, end.band().middle()),
				SeasonFormatter.number(level, end.band().low()), SeasonFormatter.number(level, end.band().high()),
				SeasonFormatter.percent(Math.max(high, low)));
	}

	private static @Nullable LevelChart picture(Outcome outcome, PoolDrift pool, Level focus, LocalDate today) {
		LevelDrift drift = pool.drift().levels().get(focus);
		List<DriftBand.Dated> ahead = outcome.ahead().get(focus);
		List<LevelTrend.Reading> readings = pool.readings().getOrDefault(focus, List.of());
		return (drift == null || ahead == null || readings.isEmpty()) ? null
				: LevelChart.small(LevelChart.Course.of(drift, readings, List.of()).heading(ahead), today.minusWeeks(WEEKS_SHOWN), today,
						WEEKS_AHEAD);
	}

	private String what(Scenario scenario, Locale locale) {
		if (scenario.changes().isEmpty()) {
			return text(locale, "pool.if.now");
		}
		return String.join("; ", scenario.changes().stream().map(change -> what(change, locale)).toList());
	}

	private String what(Change change, Locale locale) {
		if (change instanceof Change.Product product) {
			return text(locale, "pool.if.product", text(locale, "pool.if.chlorine." + product.shares().keySet().iterator().next().name()));
		}
		if (change instanceof Change.PartialDrain drain) {
			return text(locale, "pool.if.drained", Math.round(100 * drain.share()));
		}
		if (change instanceof Change.FillWater fill) {
			return text(locale, "pool.if.filled", SeasonFormatter.number(Level.CH, fill.levels().getOrDefault(Level.CH, 0.0)));
		}
		return text(locale, "pool.if.celled");
	}

	private static WhatIfView.@Nullable Costs costs(Scenario.@Nullable Cost cost, Currency currency) {
		if (cost == null) {
			return null;
		}
		// the sum is that of the figures as printed
		long chemicals = Math.round(cost.chemicals());
		long water = Math.round(cost.water());
		long visits = Math.round(cost.visits());
		long equipment = Math.round(cost.equipment());
		return new WhatIfView.Costs(QuantityFormatter.money(chemicals, currency), QuantityFormatter.money(water, currency), QuantityFormatter.money(visits, currency),
				QuantityFormatter.money(equipment, currency), QuantityFormatter.money(chemicals + water + visits + equipment, currency));
	}

	private WhatIfView.@Nullable Plan plan(Scenario scenario) {
		Long drain = null;
		String chlorine = null;
		for (Change change : scenario.changes()) {
			if (change instanceof Change.PartialDrain partial) {
				drain = Math.round(100 * partial.share());
			}
			else if (change instanceof Change.Product product) {
				chlorine = product.shares().keySet().iterator().next().name();
			}
		}
		return (drain == null && chlorine == null) ? null : new WhatIfView.Plan(drain, chlorine, ids.next(), ids.next());
	}

	private String text(Locale locale, String key, Object... args) {
		return messages.getMessage(key, args, locale);
	}

}
