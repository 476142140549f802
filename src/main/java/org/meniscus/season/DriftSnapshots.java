package org.meniscus.season;

import java.time.Clock;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.season.SeasonRepository.DoseRow;
import org.meniscus.season.SeasonRepository.VisitRow;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.LevelDrift.Flag;
import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.drift.SeasonRecord;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.springframework.stereotype.Service;

/** Assesses pools and keeps what was found. From visits alone: whatever is kept can be made again. */
@Service
class DriftSnapshots {

	/** What a year ago was read says nothing any more. Assumption, no source. */
	private static final int HISTORY_DAYS = 365;

	private static final int PLOTTED_DAYS = 182;

	/** Pools assessed in one transaction, so that no visit's assessment waits long for a whole company's. */
	private static final int BATCH_SIZE = 25;

	private final SeasonRepository repository;

	private final DriftRepository driftRepository;

	private final ClientService clients;

	private final CompanyService companies;

	private final TenantTransactions transactions;

	private final Clock clock;

	DriftSnapshots(SeasonRepository rows, DriftRepository driftRepository, ClientService clients, CompanyService companies,
			TenantTransactions transactions,
			Clock clock) {
		this.repository = rows;
		this.driftRepository = driftRepository;
		this.clients = clients;
		this.companies = companies;
		this.transactions = transactions;
		this.clock = clock;
	}

	/**
	 * How a company's pools are assessed on a day.
	 *
	 * @param end last day that is looked ahead to
	 * @param fillHardness of a fill water that nobody has tested, by those that are on file
	 */
	record AssessmentContext(DriftEngine engine, LocalDate today, LocalDate end, SeasonRecord.FillHardness fillHardness) {

		/** As they were, or will be, on another day of the same season. */
		AssessmentContext asOf(LocalDate day) {
			return new AssessmentContext(engine, day, end.isAfter(day) ? end : day, fillHardness);
		}

	}

	/** @throws org.meniscus.platform.NotFound when there is no such company */
	AssessmentContext context(CompanyId company) {
		CompanySettings settings = companies.settings(company);
		LocalDate today = settings.today(clock);
		Climate climate = transactions.call(company, () -> repository.climate(company).orElse(Climate.DEFAULT));
		return new AssessmentContext(climate.engine(), today, today.plusDays(settings.treatment().horizonDays(today)),
				transactions.call(company, () -> fillHardness(clients.pools(company))));
	}

	private static SeasonRecord.FillHardness fillHardness(List<PoolSummary> pools) {
		return SeasonRecord.FillHardness.of(pools.stream()
			.map(pool -> pool.facts().fill().value(Level.CH))
			.filter(Objects::nonNull)
			.filter(ppm -> ppm > 0)
			.toList());
	}

	/** Assesses every pool that is looked after. Not for use inside a transaction. */
	void updateAll(CompanyId company) {
		update(company, transactions.call(company, () -> clients.pools(company)));
	}

	/** Assesses one pool, archived or not. Not for use inside a transaction. */
	void update(CompanyId company, PoolId pool) {
		update(company, List.of(transactions.call(company, () -> clients.pool(company, pool))));
	}

	void update(CompanyId company, List<PoolSummary> pools) {
		AssessmentContext terms = context(company);
		for (int from = 0; from < pools.size(); from += BATCH_SIZE) {
			List<PoolSummary> some = pools.subList(from, Math.min(from + BATCH_SIZE, pools.size()));
			transactions.run(company, () -> assess(company, some, terms));
		}
	}

	/** Taken first and read then: of two who assess at once, the later one has seen every visit that the earlier one has. */
	private void assess(CompanyId company, List<PoolSummary> pools, AssessmentContext terms) {
		List<UUID> ids = pools.stream().map(pool -> pool.id().value()).toList();
		driftRepository.lock(company, ids, terms.today());
		Map<UUID, Map<Level, Flag>> flags = driftRepository.flags(company, ids);
		for (DriftInput year : inputs(company, pools, terms.today())) {
			SeasonDrift drift = assess(year, terms, flags.getOrDefault(year.pool().id().value(), Map.of()), false);
			driftRepository.save(company, year, terms.today(),
					drift.levels().values().stream().map(level -> snapshot(level, year)).toList());
		}
	}

	/** Inside a transaction of the company. */
	List<DriftInput> inputs(CompanyId company, List<PoolSummary> pools, LocalDate today) {
		List<UUID> ids = pools.stream().map(pool -> pool.id().value()).toList();
		LocalDate from = today.minusDays(HISTORY_DAYS);
		Map<UUID, List<VisitRow>> visits = repository.visits(company, ids, from, today);
		Map<UUID, List<DoseRow>> doses = repository.doses(company, ids, from, today);
		Map<UUID, Double> areas = repository.areas(company, ids);
		return pools.stream()
			.map(pool -> new DriftInput(pool, areas.get(pool.id().value()), visits.getOrDefault(pool.id().value(), List.of()),
					doses.getOrDefault(pool.id().value(), List.of())))
			.toList();
	}

	/** Inside a transaction of the company: one pool with the flags that stand. */
	SeasonDrift explain(CompanyId company, DriftInput year, AssessmentContext terms) {
		UUID pool = year.pool().id().value();
		return assess(year, terms, driftRepository.flags(company, List.of(pool)).getOrDefault(pool, Map.of()), true);
	}

	/**
	 * Flags are made anew from the visits each time, so that a late or corrected one changes what it should. A flag that time
	 * alone has raised since the last visit is known only from what was kept.
	 */
	private static SeasonDrift assess(DriftInput year, AssessmentContext terms, Map<Level, Flag> before, boolean full) {
		SeasonRecord record = year.toSeasonRecord(terms.today(), terms.fillHardness());
		long today = terms.today().toEpochDay();
		Map<Level, Flag> raisedFlags = new EnumMap<>(Level.class);
		raisedFlags.putAll(terms.engine().replayFlags(record, today));
		VisitRow last = year.lastVisit();
		before.forEach((level, flag) -> {
			if (last != null && flag.since() > last.day().toEpochDay()) {
				raisedFlags.putIfAbsent(level, flag);
			}
		});
		long end = terms.end().toEpochDay();
		SeasonDrift drift = full ? terms.engine().explain(record, today, end, raisedFlags)
				: terms.engine().assess(record, today, end, raisedFlags);
		boolean flagged = drift.levels().values().stream().anyMatch(level -> level.flag() != null);
		// the causes of what is flagged are part of the notice
		return (flagged && !full) ? terms.engine().explain(record, today, end, raisedFlags) : drift;
	}

	private static LevelSnapshot snapshot(LevelDrift drift, DriftInput year) {
		VisitRow last = year.lastVisit();
		List<DriftEvidence.PlottedReading> readings = year.readings(drift.level())
			.stream()
			.filter(reading -> last != null && reading.day().isAfter(last.day().minusDays(PLOTTED_DAYS)))
			.map(DriftEvidence.PlottedReading::of)
			.toList();
		Flag flag = drift.flag();
		LevelDrift.Causes causes = (flag != null) ? drift.causes() : null;
		return new LevelSnapshot(drift.level(), drift.today(), drift.baselineDrift(), exitForecast(drift),
				(flag != null) ? LevelSnapshot.FlagSnapshot.of(flag) : null, null,
				new DriftEvidence(drift.range(), readings, drift.forecast(), (causes != null) ? causes.parts() : Map.of(),
						(causes != null) ? Long.valueOf(causes.from()) : null, drift.notes()));
	}

	/** The side that is flagged, else the one that is likelier to be left first. */
	static LevelSnapshot.@Nullable ExitForecast exitForecast(LevelDrift drift) {
		Flag flag = drift.flag();
		RangeExit low = drift.exits().get(RangeEnd.LOW);
		RangeExit high = drift.exits().get(RangeEnd.HIGH);
		if (low == null || high == null || drift.today() == null) {
			return null;
		}
		RangeEnd side = (flag != null) ? flag.end()
				: (high.probabilityBySeasonEnd() >= low.probabilityBySeasonEnd()) ? RangeEnd.HIGH : RangeEnd.LOW;
		RangeExit at = (side == RangeEnd.HIGH) ? high : low;
		return new LevelSnapshot.ExitForecast(side, at.limit(), day(at.day10()), day(at.day50()), day(at.day90()),
				at.probabilityWithinHorizon(),
				at.probabilityBySeasonEnd());
	}

	private static @Nullable LocalDate day(@Nullable Long epochDay) {
		return (epochDay != null) ? LocalDate.ofEpochDay(epochDay) : null;
	}

}
