package org.meniscus.season;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientBook;
import org.meniscus.client.PoolCard;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyRegister;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.Tenancy;
import org.meniscus.season.SeasonRows.DoseRow;
import org.meniscus.season.SeasonRows.VisitRow;
import org.meniscus.visit.SlowLevels;
import org.meniscus.water.Volume;
import org.meniscus.water.season.KnownInput;
import org.meniscus.water.season.Observation;
import org.meniscus.water.season.RobustTrend;
import org.meniscus.water.season.SeasonDrift;
import org.meniscus.water.season.SeasonEstimate;
import org.meniscus.water.season.SeasonEstimator;
import org.meniscus.water.season.SeasonQuestion;
import org.meniscus.water.season.SeasonQuestion.Persistence;
import org.meniscus.water.treatment.Family;
import org.meniscus.water.treatment.Form;
import org.meniscus.water.treatment.Level;
import org.meniscus.water.treatment.Mark;
import org.meniscus.water.treatment.Range;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionOperations;

/**
 * The door to the season. What all pools have in common is read as it was last judged; one pool is worked out from its visits each
 * time it is asked.
 */
@Service
public class SeasonBook implements SlowLevels {

	private static final Logger log = LoggerFactory.getLogger(SeasonBook.class);

	/** How far back readings of levels that change from week to week are taken. */
	private static final int DAYS_BACK = 182;

	/** How far ahead their exit is looked for: half a year. */
	private static final int DAYS_AHEAD = 182;

	/** Tablets in a feeder or floater dissolve over about a week. Common practice, no source. */
	private static final int DAYS_A_TABLET_LASTS = 7;

	private final SeasonRows rows;

	private final DriftRows kept;

	private final SeasonKeeper keeper;

	private final ClientBook clients;

	private final CompanyRegister companies;

	private final AuditTrail audit;

	private final Clock clock;

	private final TransactionOperations transactions;

	private final SeasonEstimator estimator = new RobustTrend();

	SeasonBook(SeasonRows rows, DriftRows kept, SeasonKeeper keeper, ClientBook clients, CompanyRegister companies, AuditTrail audit,
			Clock clock, TransactionOperations transactions) {
		this.rows = rows;
		this.kept = kept;
		this.keeper = keeper;
		this.clients = clients;
		this.companies = companies;
		this.audit = audit;
		this.clock = clock;
		this.transactions = transactions;
	}

	/** The day it is where the company works. */
	public LocalDate today(CompanyId company) {
		return LocalDate.ofInstant(clock.instant(), companies.settings(company).zone());
	}

	/**
	 * Every pool that is looked after, as last judged, in the order of their clients. Pools that have not been judged today, such as
	 * new ones, are judged first. Not for use inside a transaction.
	 */
	public List<KeptPool> all(CompanyId company) {
		LocalDate today = today(company);
		List<KeptPool> pools = inside(company, () -> kept.all(company));
		Set<PoolId> late = pools.stream()
			.filter(pool -> !today.equals(pool.judgedOn()))
			.map(KeptPool::pool)
			.collect(Collectors.toSet());
		if (late.isEmpty()) {
			return pools;
		}
		try {
			keeper.keep(company, inside(company, () -> clients.pools(company)).stream().filter(pool -> late.contains(pool.id())).toList());
		}
		catch (RuntimeException ex) {
			log.warn("pools of company {} could not be judged: {}", company, ex.toString());
			return pools;
		}
		return inside(company, () -> kept.all(company));
	}

	/** Makes everything that is kept anew from the visits. Not for use inside a transaction. */
	public void rebuild(CompanyId company) {
		keeper.keepAll(company);
	}

	/**
	 * One pool's slow levels as of a day, from its visits up to it.
	 *
	 * @throws org.meniscus.platform.NotFound when this company has no such pool
	 */
	public PoolDrift drift(CompanyId company, PoolId pool, LocalDate day) {
		SeasonKeeper.Terms terms = keeper.terms(company).asOf(day);
		return inside(company, () -> {
			PoolYear year = keeper.years(company, List.of(clients.pool(company, pool)), day).get(0);
			SeasonDrift drift = keeper.explain(company, year, terms);
			Map<Level, List<LevelSeason.Reading>> readings = new EnumMap<>(Level.class);
			Map<Level, List<LevelSeason.Dose>> doses = new EnumMap<>(Level.class);
			drift.levels().keySet().forEach(level -> {
				readings.put(level, year.readings(level));
				doses.put(level, year.doses(level));
			});
			return new PoolDrift(year.pool(), drift, readings, doses);
		});
	}

	/** As last judged, at night or after the last visit; nothing is worked out here. */
	@Override
	@Transactional(readOnly = true)
	public Map<Level, Double> driftPerDay(CompanyId company, PoolId pool) {
		return kept.byThemselves(company, pool);
	}

	/** Empty while the company has not chosen. */
	public Optional<Climate> climate(CompanyId company) {
		return inside(company, () -> rows.climate(company));
	}

	/** From then on every pool is judged by this climate. Not for use inside a transaction. */
	public void choose(CompanyId company, Climate climate) {
		inside(company, () -> {
			rows.choose(company, climate);
			audit.record("season.climate", company.toString(), "{\"climate\":\"" + climate + "\"}");
			return true;
		});
		keeper.keepAll(company);
	}

	/** Handles a standing flag; the next one of that level is a notice again. @throws NotFound when no flag stands */
	public void dismiss(SignedIn me, PoolId pool, Level level, String reason) {
		inside(me.company(), () -> {
			if (!kept.dismiss(me.company(), pool, level, me.person(), reason)) {
				throw new NotFound("flag");
			}
			audit.record("season.dismissed", pool.toString(), "{\"level\":\"" + level + "\"}");
			return true;
		});
	}

	/** Makes a handled flag a notice again. @throws NotFound when none was handled */
	public void reopen(SignedIn me, PoolId pool, Level level) {
		inside(me.company(), () -> {
			if (!kept.reopen(me.company(), pool, level)) {
				throw new NotFound("flag");
			}
			audit.record("season.reopened", pool.toString(), "{\"level\":\"" + level + "\"}");
			return true;
		});
	}

	/**
	 * The levels of one pool that change from week to week.
	 *
	 * @param from first day whose readings and doses are told; the estimate uses what it needs of them, not less than half a year
	 * @throws org.meniscus.platform.NotFound when this company has no such pool
	 */
	@Transactional(readOnly = true)
	public PoolSeason pool(CompanyId company, PoolId pool, LocalDate from, LocalDate today) {
		PoolCard card = clients.pool(company, pool);
		LocalDate first = from.isBefore(today.minusDays(DAYS_BACK)) ? from : today.minusDays(DAYS_BACK);
		List<UUID> one = List.of(pool.value());
		return season(card, rows.visits(company, one, first, today).getOrDefault(pool.value(), List.of()),
				rows.doses(company, one, first, today).getOrDefault(pool.value(), List.of()), today);
	}

	private PoolSeason season(PoolCard pool, List<VisitRow> visits, List<DoseRow> doses, LocalDate today) {
		List<LevelSeason> levels = new ArrayList<>();
		for (Tracked tracked : Tracked.values()) {
			Range range = pool.facts().targets().range(tracked.level);
			LevelSeason season = level(tracked, pool, range, visits, doses, today);
			if (!Tracked.SLOW.contains(tracked) && (!season.readings().isEmpty() || range != null)) {
				levels.add(season);
			}
		}
		return new PoolSeason(pool, levels);
	}

	private <T> T inside(CompanyId company, Supplier<T> work) {
		return Objects.requireNonNull(Tenancy.as(company, () -> transactions.execute(status -> work.get())));
	}

	/** Put in because this level was low. Bicarbonate is not among them: most pools get it as often as they get the acid it makes up for. */
	private static boolean corrects(Family family, Level level) {
		return switch (level) {
			case CYA -> family == Family.CYANURIC_ACID;
			case CH -> family == Family.CALCIUM_CHLORIDE;
			case SALT -> family == Family.SALT;
			case BORATE -> family == Family.BORIC_ACID || family == Family.BORAX;
			default -> false;
		};
	}

	private LevelSeason level(Tracked tracked, PoolCard pool, @Nullable Range range, List<VisitRow> visits, List<DoseRow> doses,
			LocalDate today) {
		List<LevelSeason.Reading> readings = new ArrayList<>();
		List<Observation> observations = new ArrayList<>();
		List<KnownInput> inputs = new ArrayList<>();
		Double fill = pool.facts().fill().value(tracked.level);
		for (VisitRow visit : visits) {
			Double value = visit.values().get(tracked);
			if (value != null) {
				Mark mark = visit.marks().getOrDefault(tracked, Mark.EXACT);
				readings.add(new LevelSeason.Reading(visit.day(), visit.id(), value, mark));
				observations.add(new Observation(visit.day().toEpochDay(), value, mark));
			}
			if (visit.waterReplaced() != null) {
				inputs.add(new KnownInput.WaterReplaced(visit.day().toEpochDay(), visit.waterReplaced(),
						(fill != null) ? fill : tracked.usualFill));
			}
		}
		List<LevelSeason.Dose> told = new ArrayList<>();
		int unknown = 0;
		Volume volume = pool.facts().volume();
		if (tracked.persistence == Persistence.LASTING) {
			for (DoseRow dose : doses) {
				Map<Level, Double> changes = (volume != null) ? dose.recorded().lasting(volume.litres()).orElse(null) : null;
				if (changes == null) {
					unknown++;
				}
				else if (changes.containsKey(tracked.level)) {
					double change = changes.get(tracked.level);
					told.add(new LevelSeason.Dose(dose.day(), dose.product(), change));
					inputs.add(new KnownInput.Added(dose.day().toEpochDay(), dose.product(), change,
							(dose.recorded().kind().form() == Form.TABLET) ? DAYS_A_TABLET_LASTS : 0,
							corrects(dose.recorded().kind().family(), tracked.level)));
				}
			}
		}
		else {
			doses.stream().flatMap(dose -> passing(tracked.level, dose, volume).stream()).forEach(told::add);
		}
		SeasonEstimate estimate = estimator.estimate(new SeasonQuestion(today.toEpochDay(), today.plusDays(DAYS_AHEAD).toEpochDay(), observations,
				inputs, range, tracked.error, tracked.persistence));
		readings.sort(Comparator.comparing(LevelSeason.Reading::day));
		return new LevelSeason(tracked.level, range, estimate, readings, told, unknown);
	}

	/** What a dose does to a level that does not last: chlorine raises FC, acids and alkalis move the pH by as much as the water lets them. */
	private static Optional<LevelSeason.Dose> passing(Level level, DoseRow dose, @Nullable Volume volume) {
		Family family = dose.recorded().kind().family();
		if (level == Level.FC && family.chlorine()) {
			Double brought = (volume != null) ? dose.recorded().chlorine(volume.litres()).orElse(null) : null;
			return Optional.of(new LevelSeason.Dose(dose.day(), dose.product(), brought));
		}
		return (level == Level.PH && (family.acid() || family.alkali()))
				? Optional.of(new LevelSeason.Dose(dose.day(), dose.product(), null)) : Optional.empty();
	}

}
