package org.meniscus.season.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.season.Climate;
import org.meniscus.season.DriftNotice;
import org.meniscus.season.LevelSnapshot;
import org.meniscus.season.PoolSnapshot;
import org.meniscus.season.SeasonFormatter;
import org.meniscus.season.SeasonService;
import org.meniscus.ui.Option;
import org.meniscus.visit.VisitService;
import org.meniscus.water.pool.Level;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** All pools of the company by the day on which a level is expected to leave its range. */
@Controller
@OfficeOnly
class SeasonController {

	private static final List<Level> LEVELS = List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS, Level.BORATE);

	private static final int WEEKS_SHOWN = 16;

	private static final int FORECAST_WEEKS = 10;

	private final SeasonService seasons;

	private final SeasonFormatter formatter;

	private final VisitService visits;

	private final CompanyService companies;

	SeasonController(SeasonService seasons, SeasonFormatter words, VisitService visits, CompanyService companies) {
		this.seasons = seasons;
		this.formatter = words;
		this.visits = visits;
		this.companies = companies;
	}

	/** What one looks at; null chooses nothing. */
	record SeasonCriteria(@Nullable String level, @Nullable String technician, @Nullable String product) {

		boolean matches(PoolSnapshot pool) {
			PersonId last = pool.lastTechnician();
			return (technician == null || last != null && technician.equals(last.toString()))
					&& (product == null || pool.products().contains(product));
		}

		/** The level that one asked for, else whichever leaves first. */
		Optional<LevelSnapshot> level(PoolSnapshot pool) {
			return (level == null) ? pool.firstToExit()
					: pool.levels().stream().filter(snapshot -> snapshot.level().name().equals(level)).findFirst();
		}

	}

	@GetMapping("/season")
	String season(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String level,
			@RequestParam(required = false) @Nullable String technician, @RequestParam(required = false) @Nullable String product,
			Locale locale, Model model) {
		LocalDate today = seasons.today(me.company());
		List<PoolSnapshot> all = seasons.pools(me.company());
		boolean known = LEVELS.stream().anyMatch(candidate -> candidate.name().equals(level));
		SeasonCriteria choice = new SeasonCriteria(known ? level : null, technician, product);
		Map<UUID, String> people = companies.people(me.company())
			.stream()
			.collect(Collectors.toMap(person -> person.id().value(), PersonSummary::name));
		record Ranked(PoolSnapshot pool, LevelSnapshot level) {
		}
		List<Ranked> ranked = all.stream()
			.filter(choice::matches)
			.flatMap(pool -> choice.level(pool).map(first -> new Ranked(pool, first)).stream())
			.sorted(Comparator.comparing(Ranked::level, LevelSnapshot.EARLIEST_EXIT_FIRST))
			.toList();
		List<SeasonRow> rows = ranked.stream().map(one -> row(one.pool(), one.level(), people, today, locale)).toList();
		model.addAttribute("rows", rows);
		model.addAttribute("closed", visits.closed(me.company(), ranked.stream().map(one -> one.pool().pool()).toList())
			.stream()
			.map(PoolId::value)
			.collect(Collectors.toSet()));
		model.addAttribute("counts",
				new TreeMap<>(rows.stream().collect(Collectors.groupingBy(SeasonRow::state, Collectors.counting()))));
		model.addAttribute("pools", all.size());
		model.addAttribute("notices", DriftNotice.open(all).size());
		model.addAttribute("choice", choice);
		model.addAttribute("levels", LEVELS.stream()
			.filter(each -> all.stream().anyMatch(pool -> pool.level(each).isPresent()))
			.map(each -> new Option(each.name(), formatter.name(each, locale)))
			.toList());
		model.addAttribute("technicians", technicians(all, people));
		model.addAttribute("products", all.stream()
			.flatMap(pool -> pool.products().stream())
			.distinct()
			.sorted(String.CASE_INSENSITIVE_ORDER)
			.map(name -> new Option(name, name))
			.toList());
		model.addAttribute("climates", Climate.values());
		model.addAttribute("climate", seasons.climate(me.company()).orElse(null));
		return "season/season";
	}

	@PostMapping("/season/climate")
	String climate(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String climate) {
		Optional<Climate> chosen = Arrays.stream(Climate.values()).filter(each -> each.name().equals(climate)).findFirst();
		chosen.ifPresent(each -> seasons.chooseClimate(me.company(), each));
		return chosen.isPresent() ? "redirect:/season?saved" : "redirect:/season";
	}

	private SeasonRow row(PoolSnapshot pool, LevelSnapshot level, Map<UUID, String> people, LocalDate today, Locale locale) {
		List<String> others = new ArrayList<>();
		for (LevelSnapshot other : pool.levels()) {
			if (other.level() != level.level() && (other.flag() != null || state(other).equals("OUT_OF_RANGE"))) {
				others.add(formatter.describe(other, today, locale));
			}
		}
		PersonId last = pool.lastTechnician();
		String flag = (level.flag() == null) ? null : level.hasOpenNotice() ? "season.flag" : "season.flag.handled";
		return new SeasonRow(pool.pool().value(), pool.name(), pool.client(), state(level), formatter.exitDay(level, today, locale),
				formatter.describe(level, today, locale),
				level.evidence().readings().isEmpty() ? null
						: LevelChart.sparkline(LevelChart.ChartSeries.of(level), today.minusWeeks(WEEKS_SHOWN), today, FORECAST_WEEKS),
				flag, formatter.reasons(level, locale), others, (last != null) ? people.get(last.value()) : null);
	}

	private String state(LevelSnapshot level) {
		return formatter.state(level.today(), level.evidence().range(), level.flag() != null);
	}

	private static List<Option> technicians(List<PoolSnapshot> pools, Map<UUID, String> people) {
		return pools.stream()
			.map(PoolSnapshot::lastTechnician)
			.filter(Objects::nonNull)
			.distinct()
			.map(id -> new Option(id.toString(), people.getOrDefault(id.value(), "–")))
			.sorted(Comparator.comparing(Option::text))
			.toList();
	}

}
