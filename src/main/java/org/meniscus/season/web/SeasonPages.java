package org.meniscus.season.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyRegister;
import org.meniscus.company.PersonCard;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.Option;
import org.meniscus.season.LevelSeason;
import org.meniscus.season.PoolSeason;
import org.meniscus.season.SeasonBook;
import org.meniscus.season.SeasonWords;
import org.meniscus.water.season.SeasonEstimate.State;
import org.meniscus.water.treatment.Level;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** All pools of the company by how urgent they are. */
@Controller
@OfficeOnly
class SeasonPages {

	/** What only replacing water brings down, and so is asked about where no level is named. */
	private static final List<Level> SLOW = List.of(Level.CYA, Level.CH, Level.SALT);

	private static final List<Level> LEVELS = List.of(Level.CYA, Level.CH, Level.TA, Level.SALT, Level.FC, Level.PH);

	/** Asks for the most urgent of all levels, those that change from day to day too. */
	private static final String EVERY = "EVERY";

	private static final int WEEKS_SHOWN = 18;

	private static final int WEEKS_AHEAD = 8;

	private final SeasonBook book;

	private final SeasonWords words;

	private final CompanyRegister companies;

	private final Clock clock;

	SeasonPages(SeasonBook book, SeasonWords words, CompanyRegister companies, Clock clock) {
		this.book = book;
		this.words = words;
		this.companies = companies;
		this.clock = clock;
	}

	@GetMapping("/season")
	String season(@AuthenticationPrincipal SignedIn me, @RequestParam(required = false) @Nullable String level,
			@RequestParam(required = false) @Nullable String technician, Locale locale, Model model) {
		LocalDate today = LocalDate.now(clock.withZone(companies.settings(me.company()).zone()));
		List<Level> asked = LEVELS.stream().filter(candidate -> candidate.name().equals(level)).toList();
		boolean every = EVERY.equals(level);
		List<Level> among = every ? LEVELS : asked.isEmpty() ? SLOW : asked;
		Map<UUID, String> people = companies.people(me.company())
			.stream()
			.collect(Collectors.toMap(person -> person.id().value(), PersonCard::name));
		List<PoolSeason> all = book.all(me.company(), today);
		List<PoolSeason> pools = all.stream()
			.filter(pool -> technician == null || technician.isEmpty() || technician.equals(idOf(pool.lastTechnician())))
			.toList();
		record Ranked(PoolSeason pool, LevelSeason level) {
		}
		List<Ranked> ranked = pools.stream()
			.flatMap(pool -> pool.mostUrgent(among).map(worst -> new Ranked(pool, worst)).stream())
			.sorted(Comparator.comparing(Ranked::level, PoolSeason.URGENCY))
			.toList();
		Map<State, Long> counts = new TreeMap<>(
				ranked.stream().collect(Collectors.groupingBy(row -> row.level().estimate().state(), Collectors.counting())));
		model.addAttribute("rows", ranked.stream().map(row -> row(row.pool(), row.level(), people, today, locale)).toList());
		model.addAttribute("counts", counts);
		model.addAttribute("pools", all.size());
		model.addAttribute("level", every ? EVERY : asked.isEmpty() ? "" : asked.get(0).name());
		model.addAttribute("technician", (technician != null) ? technician : "");
		model.addAttribute("levels", LEVELS.stream().map(each -> new Option(each.name(), words.name(each, locale))).toList());
		model.addAttribute("technicians", technicians(all, people));
		return "season/season";
	}

	private SeasonRow row(PoolSeason pool, LevelSeason level, Map<UUID, String> people, LocalDate today, Locale locale) {
		List<String> others = new ArrayList<>();
		for (LevelSeason other : pool.levels()) {
			if (other.level() != level.level() && other.estimate().state() == State.OUT_OF_RANGE) {
				others.add(words.sentence(other, locale));
			}
		}
		PersonId last = pool.lastTechnician();
		return new SeasonRow(pool.pool().id().value(), pool.pool().name(), pool.pool().clientName(),
				level.estimate().state().name(), words.sentence(level, locale),
				level.readings().isEmpty() ? null : LevelChart.small(level, today.minusWeeks(WEEKS_SHOWN), today, WEEKS_AHEAD),
				others, (last != null) ? people.get(last.value()) : null);
	}

	private static List<Option> technicians(List<PoolSeason> pools, Map<UUID, String> people) {
		return pools.stream()
			.map(PoolSeason::lastTechnician)
			.filter(Objects::nonNull)
			.distinct()
			.map(id -> new Option(id.toString(), people.getOrDefault(id.value(), "–")))
			.sorted(Comparator.comparing(Option::text))
			.toList();
	}

	private static @Nullable String idOf(@Nullable PersonId person) {
		return (person != null) ? person.toString() : null;
	}

}
