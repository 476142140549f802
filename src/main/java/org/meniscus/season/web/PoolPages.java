package org.meniscus.season.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolCard;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyRegister;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.platform.web.LevelRule;
import org.meniscus.platform.web.Measures;
import org.meniscus.season.LevelSeason;
import org.meniscus.season.PoolSeason;
import org.meniscus.season.SeasonBook;
import org.meniscus.season.SeasonWords;
import org.meniscus.season.web.PoolPage.LevelView;
import org.meniscus.season.web.PoolPage.Line;
import org.meniscus.season.web.PoolPage.VisitLine;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.PlannedStops;
import org.meniscus.visit.VisitBook;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.Volume;
import org.meniscus.water.UnitSystem;
import org.meniscus.water.season.SeasonEstimate.Today;
import org.meniscus.water.treatment.AmountUnit;
import org.meniscus.water.treatment.Level;
import org.meniscus.water.treatment.PoolHistory;
import org.meniscus.water.treatment.Range;
import org.meniscus.water.treatment.Wording;
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
class PoolPages {

	private static final List<Level> IN_A_LINE = List.of(Level.FC, Level.PH, Level.TA, Level.CH, Level.CYA, Level.SALT);

	private static final int WEEKS_AHEAD = 8;

	private final SeasonBook seasons;

	private final SeasonWords words;

	private final VisitBook visits;

	private final PlannedStops stops;

	private final CompanyRegister companies;

	private final MessageSource messages;

	private final Clock clock;

	PoolPages(SeasonBook seasons, SeasonWords words, VisitBook visits, PlannedStops stops, CompanyRegister companies,
			MessageSource messages, Clock clock) {
		this.seasons = seasons;
		this.words = words;
		this.visits = visits;
		this.stops = stops;
		this.companies = companies;
		this.messages = messages;
		this.clock = clock;
	}

	/** @param span {@code year} for the last twelve months, anything else for the last half year */
	@GetMapping("/pools/{id}")
	String pool(@AuthenticationPrincipal SignedIn me, @PathVariable UUID id, @RequestParam(required = false) @Nullable String span,
			Locale locale, Model model) {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = LocalDate.now(clock.withZone(company.zone()));
		PoolId pool = new PoolId(id);
		if (!me.isOffice() && !stops.mayVisit(me, pool, today)) {
			throw new NotFound("pool");
		}
		boolean year = "year".equals(span);
		LocalDate from = year ? today.minusMonths(12) : today.minusWeeks(26);
		PoolSeason season = seasons.pool(me.company(), pool, from, today);
		model.addAttribute("pool", page(season, visits.history(me.company(), pool, from), from, today, company.units(), locale));
		model.addAttribute("year", year);
		return "season/pool";
	}

	private PoolPage page(PoolSeason season, List<VisitRecord> history, LocalDate from, LocalDate today, UnitSystem units,
			Locale locale) {
		PoolCard pool = season.pool();
		Volume volume = pool.facts().volume();
		List<LevelView> levels = season.levels().stream().map(level -> view(level, from, today, locale)).toList();
		List<VisitLine> lines = history.stream().map(visit -> line(visit, units, locale)).toList();
		return new PoolPage(pool.id().value(), pool.client().value(), pool.name(), pool.clientName(),
				String.join(", ", List.of(pool.street(), pool.town()).stream().filter(part -> !part.isEmpty()).toList()),
				(volume != null) ? Measures.volume(units, volume.litres()) : null, pool.facts().surface().name(),
				pool.facts().sanitizer().name(), pool.facts().indoor(), pool.facts().certainty().name(), pool.facts().body().name(),
				pool.equipmentNotes(), pool.archived(), ahead(pool, history, units, locale), levels, lines);
	}

	/** How it uses up chlorine and where its pH goes. */
	private List<String> ahead(PoolCard pool, List<VisitRecord> history, UnitSystem units, Locale locale) {
		return new PoolHistory(pool.facts(), VisitRecord.oldestFirst(history)).told()
			.stream()
			.map(reason -> reason.words(units, (key, args) -> messages.getMessage(key, args, locale)))
			.toList();
	}

	private LevelView view(LevelSeason season, LocalDate from, LocalDate today, Locale locale) {
		Range range = season.range();
		Double now = (season.estimate().today() instanceof Today.Level level) ? Double.valueOf(level.middle()) : null;
		String name = words.name(season.level(), locale);
		LevelRule rule = (range == null) ? null
				: LevelRule.of(name, (season.level().unit() == Level.Unit.PPM) ? "ppm" : "", season.estimate().state().name(),
						new LevelRule.Band(range.acceptableLow(), range.idealLow(), range.idealHigh(), range.acceptableHigh()), now,
						null, season.level().decimals());
		boolean passing = season.level() == Level.FC || season.level() == Level.PH;
		LevelChart chart = season.readings().isEmpty() ? null
				: LevelChart.full(season, from, today, passing ? 0 : WEEKS_AHEAD, locale);
		List<Line> readings = new ArrayList<>();
		season.readings()
			.stream()
			.filter(reading -> !reading.day().isBefore(from))
			.forEach(reading -> readings.add(new Line(Measures.date(reading.day(), locale),
					SeasonWords.reading(season.level(), reading.value(), reading.mark()), null)));
		Collections.reverse(readings);
		List<Line> doses = new ArrayList<>();
		season.doses()
			.stream()
			.filter(dose -> !dose.day().isBefore(from))
			.forEach(dose -> doses.add(new Line(Measures.date(dose.day(), locale), dose.product(),
					(dose.change() != null) ? SeasonWords.signed(dose.change()) : "–")));
		Collections.reverse(doses);
		return new LevelView(name, season.level().name(), season.estimate().state().name(), words.today(season, locale),
				words.sentence(season, locale), rule, chart, words.causes(season, locale), words.remarks(season, locale), readings,
				doses);
	}

	private VisitLine line(VisitRecord visit, UnitSystem units, Locale locale) {
		List<String> readings = new ArrayList<>();
		for (Level level : IN_A_LINE) {
			Double value = visit.readings().value(level);
			if (value != null) {
				readings.add(messages.getMessage("season.short." + level.name(), null, locale) + " "
						+ visit.readings().mark(level).sign() + Wording.number(level, value));
			}
		}
		List<String> doses = new ArrayList<>();
		for (DoseRecord dose : visit.doses()) {
			doses.add(dose.productName() + ": " + ((dose.unit() == AmountUnit.ML) ? Measures.millilitres(units, dose.amount())
					: Measures.grams(units, dose.amount())));
		}
		String situation = messages.getMessage(Wording.situationKey(visit.situation()), null, "", locale);
		return new VisitLine(visit.id().value(), Measures.day(visit.performedOn(), locale), visit.technicianName(),
				(situation != null) ? situation : "", String.join(" · ", readings), String.join("; ", doses), visit.photos());
	}

}
