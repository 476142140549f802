package org.meniscus.season;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientBook;
import org.meniscus.client.PoolCard;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.season.SeasonRows.DoseRow;
import org.meniscus.season.SeasonRows.VisitRow;
import org.meniscus.water.Volume;
import org.meniscus.water.season.KnownInput;
import org.meniscus.water.season.Observation;
import org.meniscus.water.season.RobustTrend;
import org.meniscus.water.season.SeasonEstimate;
import org.meniscus.water.season.SeasonEstimator;
import org.meniscus.water.season.SeasonQuestion;
import org.meniscus.water.season.SeasonQuestion.Persistence;
import org.meniscus.water.treatment.Family;
import org.meniscus.water.treatment.Form;
import org.meniscus.water.treatment.Level;
import org.meniscus.water.treatment.Mark;
import org.meniscus.water.treatment.Range;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The door to the season: worked out from visits each time it is asked, so that a late or corrected visit counts at once. */
@Service
public class SeasonBook {

	/** How far back readings are taken for an estimate. */
	private static final int DAYS_BACK = 182;

	/** How far ahead an exit is looked for: half a year. */
	private static final int DAYS_AHEAD = 182;

	/** Tablets in a feeder or floater dissolve over about a week. Common practice, no source. */
	private static final int DAYS_A_TABLET_LASTS = 7;

	private final SeasonRows rows;

	private final ClientBook clients;

	private final SeasonEstimator estimator = new RobustTrend();

	SeasonBook(SeasonRows rows, ClientBook clients) {
		this.rows = rows;
		this.clients = clients;
	}

	/** Last day of what is looked ahead to from a day. */
	public static LocalDate end(LocalDate today) {
		return today.plusDays(DAYS_AHEAD);
	}

	/** Every pool that is looked after, in a fixed number of statements however many there are; in the order of their clients. */
	@Transactional(readOnly = true)
	public List<PoolSeason> all(CompanyId company, LocalDate today) {
		LocalDate from = today.minusDays(DAYS_BACK);
		Map<UUID, List<VisitRow>> visits = rows.visits(company, null, from, today);
		Map<UUID, List<DoseRow>> doses = rows.doses(company, null, from, today);
		return clients.pools(company)
			.stream()
			.map(pool -> season(pool, visits.getOrDefault(pool.id().value(), List.of()),
					doses.getOrDefault(pool.id().value(), List.of()), today))
			.toList();
	}

	/**
	 * One pool.
	 *
	 * @param from first day whose readings and doses are told; the estimate uses what it needs of them, not less than half a year
	 * @throws org.meniscus.platform.NotFound when this company has no such pool
	 */
	@Transactional(readOnly = true)
	public PoolSeason pool(CompanyId company, PoolId pool, LocalDate from, LocalDate today) {
		PoolCard card = clients.pool(company, pool);
		LocalDate first = from.isBefore(today.minusDays(DAYS_BACK)) ? from : today.minusDays(DAYS_BACK);
		return season(card, rows.visits(company, pool, first, today).getOrDefault(pool.value(), List.of()),
				rows.doses(company, pool, first, today).getOrDefault(pool.value(), List.of()), today);
	}

	private PoolSeason season(PoolCard pool, List<VisitRow> visits, List<DoseRow> doses, LocalDate today) {
		List<LevelSeason> levels = new ArrayList<>();
		for (Tracked tracked : Tracked.values()) {
			Range range = pool.facts().targets().range(tracked.level);
			LevelSeason season = level(tracked, pool, range, visits, doses, today);
			// borate and salt matter only where they are kept or watched
			boolean optional = tracked == Tracked.BORATE || tracked == Tracked.SALT && range == null;
			if (!season.readings().isEmpty() || (range != null && !optional)) {
				levels.add(season);
			}
		}
		return new PoolSeason(pool, levels, visits.isEmpty() ? null : visits.get(visits.size() - 1).technician());
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
		SeasonEstimate estimate = estimator.estimate(new SeasonQuestion(today.toEpochDay(), end(today).toEpochDay(), observations,
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
