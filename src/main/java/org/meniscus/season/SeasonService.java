package org.meniscus.season;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.season.SeasonRepository.DoseRow;
import org.meniscus.season.SeasonRepository.VisitRow;
import org.meniscus.visit.DriftRates;
import org.meniscus.water.demand.AlkalinityTrend;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.units.Volume;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The season. What all pools have in common is read as it was last assessed; one pool is worked out from its visits each
 * time it is asked.
 */
@Service
public class SeasonService implements DriftRates {

	private static final Logger log = LoggerFactory.getLogger(SeasonService.class);

	/** How far back readings of levels that change from week to week are taken. */
	private static final int HISTORY_DAYS = 182;

	/** Taken for the fill water where nobody has tested it, ppm. Assumption, no source. */
	private static final double ASSUMED_FILL_ALKALINITY = 100;

	private final SeasonRepository repository;

	private final DriftRepository driftRepository;

	private final DriftSnapshots snapshots;

	private final ClientService clients;

	private final CompanyService companies;

	private final AuditTrail audit;

	private final Clock clock;

	private final TenantTransactions transactions;

	SeasonService(SeasonRepository rows, DriftRepository driftRepository, DriftSnapshots snapshots, ClientService clients,
			CompanyService companies,
			AuditTrail audit,
			Clock clock, TenantTransactions transactions) {
		this.repository = rows;
		this.driftRepository = driftRepository;
		this.snapshots = snapshots;
		this.clients = clients;
		this.companies = companies;
		this.audit = audit;
		this.clock = clock;
		this.transactions = transactions;
	}

	/** The day it is where the company works. */
	public LocalDate today(CompanyId company) {
		return companies.settings(company).today(clock);
	}

	/**
	 * Every pool that is looked after, as last assessed, in the order of their clients. Pools that have not been assessed today, such as
	 * new ones, are assessed first. Not for use inside a transaction.
	 */
	public List<PoolSnapshot> pools(CompanyId company) {
		LocalDate today = today(company);
		List<PoolSnapshot> pools = transactions.call(company, () -> driftRepository.all(company));
		Set<PoolId> late = pools.stream()
			.filter(pool -> !today.equals(pool.assessedOn()))
			.map(PoolSnapshot::pool)
			.collect(Collectors.toSet());
		if (late.isEmpty()) {
			return pools;
		}
		try {
			snapshots.update(company,
					transactions.call(company, () -> clients.pools(company)).stream().filter(pool -> late.contains(pool.id())).toList());
		}
		catch (RuntimeException ex) {
			log.warn("pools of company {} could not be assessed: {}", company, ex.toString());
			return pools;
		}
		return transactions.call(company, () -> driftRepository.all(company));
	}

	/**
	 * One pool's slow levels as of a day, from its visits up to it.
	 *
	 * @throws org.meniscus.platform.NotFound when this company has no such pool
	 */
	public PoolDrift drift(CompanyId company, PoolId pool, LocalDate day) {
		DriftSnapshots.AssessmentContext terms = snapshots.context(company).asOf(day);
		return transactions.call(company, () -> {
			DriftInput year = snapshots.inputs(company, List.of(clients.pool(company, pool)), day).get(0);
			SeasonDrift drift = snapshots.explain(company, year, terms);
			Map<Level, List<LevelTrend.LevelReading>> readings = new EnumMap<>(Level.class);
			Map<Level, List<LevelTrend.LevelDose>> doses = new EnumMap<>(Level.class);
			drift.levels().keySet().forEach(level -> {
				readings.put(level, year.readings(level));
				doses.put(level, year.doses(level));
			});
			return new PoolDrift(year.pool(), drift, readings, doses);
		});
	}

	/** As last assessed, at night or after the last visit; nothing is worked out here. */
	@Override
	@Transactional(readOnly = true)
	public Map<Level, Double> driftPerDay(CompanyId company, PoolId pool) {
		return driftRepository.baselineDrifts(company, pool);
	}

	@Override
	@Transactional(readOnly = true)
	public ClimateNormals climateNormals(CompanyId company) {
		return repository.climate(company).orElse(Climate.DEFAULT).normals();
	}

	/** Empty while the company has not chosen. */
	public Optional<Climate> climate(CompanyId company) {
		return transactions.call(company, () -> repository.climate(company));
	}

	/** From then on every pool is assessed by this climate. Not for use inside a transaction. */
	public void chooseClimate(CompanyId company, Climate climate) {
		transactions.run(company, () -> {
			repository.saveClimate(company, climate);
			audit.record("season.climate", company.toString(), Map.of("climate", climate));
		});
		snapshots.updateAll(company);
	}

	/** Handles a standing flag; the next one of that level is a notice again. @throws NotFound when no flag stands */
	public void dismiss(SignedInUser me, PoolId pool, Level level, String reason) {
		transactions.run(me.company(), () -> {
			if (!driftRepository.dismiss(me.company(), pool, level, me.person(), reason)) {
				throw new NotFound("flag");
			}
			audit.record("season.dismissed", pool.toString(), Map.of("level", level));
		});
	}

	/** Makes a handled flag a notice again. @throws NotFound when none was handled */
	public void reopen(SignedInUser me, PoolId pool, Level level) {
		transactions.run(me.company(), () -> {
			if (!driftRepository.reopen(me.company(), pool, level)) {
				throw new NotFound("flag");
			}
			audit.record("season.reopened", pool.toString(), Map.of("level", level));
		});
	}

	/**
	 * The levels of one pool that change from week to week by what is dosed for them: those that were read or are assessed.
	 *
	 * @param from first day whose readings and doses are shown; the estimate uses what it needs of them, not less than half a year
	 * @throws org.meniscus.platform.NotFound when this company has no such pool
	 */
	@Transactional(readOnly = true)
	public List<LevelTrend> trends(CompanyId company, PoolId pool, LocalDate from, LocalDate today) {
		PoolSummary card = clients.pool(company, pool);
		LocalDate first = from.isBefore(today.minusDays(HISTORY_DAYS)) ? from : today.minusDays(HISTORY_DAYS);
		List<UUID> one = List.of(pool.value());
		List<VisitRow> visits = repository.visits(company, one, first, today).getOrDefault(pool.value(), List.of());
		List<DoseRow> doses = repository.doses(company, one, first, today).getOrDefault(pool.value(), List.of());
		return TrackedLevel.DOSED.stream()
			.map(tracked -> trend(tracked, card, visits, doses, today))
			.filter(trend -> !trend.readings().isEmpty() || trend.range() != null)
			.toList();
	}

	private static LevelTrend trend(TrackedLevel tracked, PoolSummary pool, List<VisitRow> visits, List<DoseRow> doses, LocalDate today) {
		List<LevelTrend.LevelReading> readings = new ArrayList<>();
		LevelTrend.LevelReading newest = null;
		for (VisitRow visit : visits) {
			Double value = visit.values().get(tracked);
			if (value != null) {
				newest = new LevelTrend.LevelReading(visit.day(), visit.id(), value,
						visit.qualifiers().getOrDefault(tracked, ReadingQualifier.EXACT));
				readings.add(newest);
			}
			if (visit.waterReplaced() != null && visit.waterReplaced() > AlkalinityTrend.FULL_REPLACEMENT) {
				newest = null;
			}
		}
		Range range = pool.facts().targets().range(tracked.level);
		Volume volume = pool.facts().volume();
		if (tracked != TrackedLevel.TA) {
			List<LevelTrend.LevelDose> moved = doses.stream().flatMap(dose -> shortLivedDose(tracked.level, dose, volume).stream())
				.toList();
			return new LevelTrend(tracked.level, range, newest, null, readings, moved, 0);
		}
		List<LevelTrend.LevelDose> moved = new ArrayList<>();
		int unknown = 0;
		for (DoseRow dose : doses) {
			Map<Level, Double> changes = (volume != null) ? dose.recorded().lasting(volume.litres()).orElse(null) : null;
			if (changes == null) {
				unknown++;
			}
			else if (changes.containsKey(Level.TA)) {
				moved.add(new LevelTrend.LevelDose(dose.day(), dose.product(), changes.get(Level.TA)));
			}
		}
		return new LevelTrend(Level.TA, range, newest, alkalinityTrend(pool, visits, readings, moved, today), readings, moved, unknown);
	}

	private static @Nullable AlkalinityTrend alkalinityTrend(PoolSummary pool, List<VisitRow> visits,
			List<LevelTrend.LevelReading> readings, List<LevelTrend.LevelDose> doses, LocalDate today) {
		Double fill = pool.facts().fill().value(Level.TA);
		List<AlkalinityTrend.Change> changes = new ArrayList<>();
		for (VisitRow visit : visits) {
			if (visit.waterReplaced() != null) {
				changes.add(AlkalinityTrend.Change.replacement(visit.day().toEpochDay(), visit.waterReplaced(),
						(fill != null) ? fill : ASSUMED_FILL_ALKALINITY));
			}
		}
		for (LevelTrend.LevelDose dose : doses) {
			changes.add(AlkalinityTrend.Change.dose(dose.day().toEpochDay(), dose.product(), Objects.requireNonNull(dose.change())));
		}
		return AlkalinityTrend
			.of(readings.stream().map(reading -> new AlkalinityTrend.Reading(reading.day().toEpochDay(), reading.value())).toList(),
					changes, today.toEpochDay())
			.orElse(null);
	}

	/** What a dose does to a level that does not last: chlorine raises FC, acids and alkalis move the pH by as much as the water lets them. */
	private static Optional<LevelTrend.LevelDose> shortLivedDose(Level level, DoseRow dose, @Nullable Volume volume) {
		ActiveIngredient ingredient = dose.recorded().kind().ingredient();
		if (level == Level.FC && ingredient.chlorine()) {
			Double brought = (volume != null) ? dose.recorded().chlorine(volume.litres()).orElse(null) : null;
			return Optional.of(new LevelTrend.LevelDose(dose.day(), dose.product(), brought));
		}
		return (level == Level.PH && (ingredient.acid() || ingredient.alkali()))
				? Optional.of(new LevelTrend.LevelDose(dose.day(), dose.product(), null)) : Optional.empty();
	}

}
