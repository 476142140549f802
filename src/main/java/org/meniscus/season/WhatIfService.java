package org.meniscus.season;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.product.ProductService;
import org.meniscus.visit.PlannedStops;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.Scenario;
import org.meniscus.water.drift.Scenario.Change;
import org.meniscus.water.drift.Scenario.Outcome;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;
import org.meniscus.water.units.NormalDistribution;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What one might do about a pool's drift, each with the forecast it leads to and what it costs until the season's end. */
@Service
public class WhatIfService {

	/** Parts of the water that one would replace at once. Common practice, no source. */
	private static final List<Double> DRAIN_SHARES = List.of(0.25, 0.4, 0.6);

	/** At most this chance of standing beyond the limit at the season's end is good enough. Common practice, no source. */
	private static final double ACCEPTABLE_EXCEEDANCE = 0.1;

	private static final int DEFAULT_DAYS_TO_NEXT_VISIT = 7;

	private static final double MG_PER_KG = 1e6;

	private final DriftSnapshots snapshots;

	private final ClientService clients;

	private final CompanyService companies;

	private final ProductService productService;

	private final PlannedStops stops;

	WhatIfService(DriftSnapshots snapshots, ClientService clients, CompanyService companies, ProductService productService,
			PlannedStops stops) {
		this.snapshots = snapshots;
		this.clients = clients;
		this.companies = companies;
		this.productService = productService;
		this.stops = stops;
	}

	/**
	 * What was asked; nothing at all asks for what goes on by itself.
	 *
	 * @param chlorine all chlorine from the next visit on
	 * @param drain share of the water replaced at the next visit
	 * @param fillCh hardness of the fill water from the next visit on, ppm
	 * @param cellCents price of a salt cell with its fitting, minor units
	 */
	public record WhatIfQuestion(@Nullable DoseKind chlorine, @Nullable Double drain, @Nullable Double fillCh, @Nullable Long cellCents) {
	}

	/**
	 * @param from day of the next visit: when each change begins
	 * @param baseline what goes on by itself
	 * @param asked each change by itself and, where there are several, all of them together
	 * @param suggested what is enough and costs least; null when nothing has to be done or nothing here helps
	 * @param unpriced whether chlorine that this pool gets has no price and so counts as nothing
	 */
	public record WhatIfAnswer(LocalDate from, Outcome baseline, List<Outcome> asked, @Nullable WhatIfSuggestion suggested,
			boolean unpriced) {
	}

	/** @param exceedanceNow,beyondThen chance of standing beyond the limit at the season's end, if nothing is done and if this is */
	public record WhatIfSuggestion(Outcome outcome, Level level, double exceedanceNow, double exceedanceThen) {
	}

	/** Empty while nothing is known of the pool. @throws org.meniscus.platform.NotFound when this company has no such pool */
	@Transactional(readOnly = true)
	public Optional<WhatIfAnswer> answer(CompanyId company, PoolId pool, WhatIfQuestion question) {
		DriftSnapshots.AssessmentContext terms = snapshots.context(company);
		DriftInput year = snapshots.inputs(company, List.of(clients.pool(company, pool)), terms.today()).get(0);
		LocalDate from = stops.nextAfter(company, pool, terms.today()).orElse(terms.today().plusDays(DEFAULT_DAYS_TO_NEXT_VISIT));
		List<Scenario> scenarios = new ArrayList<>(List.of(new Scenario("now", List.of())));
		scenarios.addAll(asked(question, from.toEpochDay()));
		int asked = scenarios.size();
		List<Product> products = productService.findAll(company, terms.today());
		Scenario.Prices prices = prices(products, companies.settings(company));
		scenarios.addAll(candidates(prices, from.toEpochDay()));
		DriftEngine engine = terms.engine();
		List<Outcome> outcomes = engine.compare(year.toSeasonRecord(terms.today(), terms.fillHardness()), terms.today().toEpochDay(),
				terms.end().toEpochDay(),
				scenarios,
				prices);
		if (outcomes.isEmpty() || outcomes.get(0).forecast().isEmpty()) {
			return Optional.empty();
		}
		return Optional.of(new WhatIfAnswer(from, outcomes.get(0), outcomes.subList(1, asked),
				suggest(outcomes.get(0), outcomes.subList(asked, outcomes.size()), year), unpriced(year, prices)));
	}

	private static List<Scenario> asked(WhatIfQuestion question, long day) {
		List<Scenario> single = new ArrayList<>();
		if (question.chlorine() != null) {
			single.add(new Scenario("chlorine", List.of(new Change.ProductSwitch(day, Map.of(question.chlorine(), 1.0)))));
		}
		if (question.cellCents() != null) {
			single.add(new Scenario("cell", List.of(new Change.Cell(day, question.cellCents()))));
		}
		if (question.fillCh() != null) {
			single.add(new Scenario("fill", List.of(new Change.FillWaterChange(day, Map.of(Level.CH, question.fillCh())))));
		}
		if (question.drain() != null) {
			single.add(new Scenario("drain", List.of(new Change.PartialDrain(day, question.drain()))));
		}
		if (single.size() > 1) {
			single.add(new Scenario("all", single.stream().flatMap(one -> one.changes().stream()).toList()));
		}
		return single;
	}

	/** Liquid chlorine leaves neither stabilizer nor hardness behind; water that is replaced takes both along. */
	private static List<Scenario> candidates(Scenario.Prices prices, long day) {
		List<Scenario> candidates = new ArrayList<>();
		boolean liquid = prices.chlorine().containsKey(DoseKind.LIQUID_CHLORINE);
		Change product = new Change.ProductSwitch(day, Map.of(DoseKind.LIQUID_CHLORINE, 1.0));
		if (liquid) {
			candidates.add(new Scenario("suggested", List.of(product)));
		}
		for (double share : DRAIN_SHARES) {
			Change drain = new Change.PartialDrain(day, share);
			candidates.add(new Scenario("suggested", List.of(drain)));
			if (liquid) {
				candidates.add(new Scenario("suggested", List.of(product, drain)));
			}
		}
		return candidates;
	}

	/** For the stabilizer or hardness likeliest to stand above its limit at the season's end. */
	private static @Nullable WhatIfSuggestion suggest(Outcome asNow, List<Outcome> candidates, DriftInput year) {
		Map<Level, Exceedance> beyond = new EnumMap<>(Level.class);
		for (Level level : List.of(Level.CYA, Level.CH)) {
			Range range = year.pool().facts().targets().range(level);
			if (range != null && asNow.forecast().containsKey(level)) {
				beyond.put(level, new Exceedance(level, range.acceptableHigh(),
						exceedanceProbability(asNow, level, range.acceptableHigh())));
			}
		}
		Exceedance worst = beyond.values().stream().max(Comparator.comparingDouble(Exceedance::probability)).orElse(null);
		if (worst == null || worst.probability() < 0.5) {
			return null;
		}
		return candidates.stream()
			.filter(outcome -> exceedanceProbability(outcome, worst.level(), worst.limit()) <= ACCEPTABLE_EXCEEDANCE)
			.filter(outcome -> outcome.cost() != null)
			.min(Comparator.comparingDouble(outcome -> Objects.requireNonNull(outcome.cost()).total()))
			.map(outcome -> new WhatIfSuggestion(outcome, worst.level(), worst.probability(),
					exceedanceProbability(outcome, worst.level(), worst.limit())))
			.orElse(null);
	}

	/** @param probability of standing above {@code limit} at the season's end */
	private record Exceedance(Level level, double limit, double probability) {
	}

	private static boolean unpriced(DriftInput year, Scenario.Prices prices) {
		return year.doses()
			.stream()
			.map(dose -> DoseKind.of(dose.recorded().kind().ingredient()))
			.anyMatch(kind -> kind.routine() && !prices.chlorine().containsKey(kind));
	}

	/** Chance of standing above a limit at the season's end, taking the 80 % band for that of a normal distribution. */
	private static double exceedanceProbability(Outcome outcome, Level level, double limit) {
		List<DatedBand> ahead = Objects.requireNonNull(outcome.forecast().get(level));
		Band end = ahead.get(ahead.size() - 1).band();
		double deviation = Math.max(end.width() / (2 * NormalDistribution.Z80), 1e-6);
		return NormalDistribution.cdf((end.middle() - limit) / deviation);
	}

	/** The cheapest product of each kind of chlorine; in minor units of the company's currency. */
	private static Scenario.Prices prices(List<Product> products, CompanySettings company) {
		Map<DoseKind, Double> chlorine = new EnumMap<>(DoseKind.class);
		for (Product product : products) {
			Long cents = product.priceCents();
			DoseKind kind = DoseKind.of(product.kind().ingredient());
			if (cents == null || !kind.routine()) {
				continue;
			}
			new RecordedDose(product.kind(), product.strength(), product.basis(), product.packageAmount()).chlorine(1)
				.filter(milligrams -> milligrams > 0)
				.ifPresent(milligrams -> chlorine.merge(kind, cents / (milligrams / MG_PER_KG), Math::min));
		}
		TreatmentCosts costs = company.treatment().costs();
		return new Scenario.Prices(chlorine, costs.waterPerM3(), costs.drainLabor());
	}

}
