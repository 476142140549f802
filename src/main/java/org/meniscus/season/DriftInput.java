package org.meniscus.season;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolSummary;
import org.meniscus.season.SeasonRepository.DoseRow;
import org.meniscus.season.SeasonRepository.VisitRow;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.drift.SeasonPool;
import org.meniscus.water.drift.SeasonRecord;
import org.meniscus.water.drift.SeasonVisit;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.units.Volume;

/**
 * What is on record about one pool for the year up to a day, as the drift engine takes it.
 *
 * @param area of the water surface, square metres; null when not known
 * @param visits oldest first
 * @param doses oldest first
 */
record DriftInput(PoolSummary pool, @Nullable Double area, List<VisitRow> visits, List<DoseRow> doses) {

	/** New plaster gives off calcium for about two months. Common practice, no source. */
	private static final int NEW_PLASTER_DAYS = 60;

	private static final double LITRES_PER_M3 = 1000;

	/** Dosed lately: what one looks for when choosing pools by product. */
	private static final int RECENT_PRODUCT_DAYS = 90;

	/** @param fillHardness where nobody has tested this pool's fill water */
	SeasonRecord toSeasonRecord(LocalDate today, SeasonRecord.FillHardness fillHardness) {
		Volume volume = pool.facts().volume();
		Double litres = (volume != null) ? Double.valueOf(volume.litres()) : null;
		Map<UUID, List<SeasonVisit.Dose>> byVisit = new HashMap<>();
		for (DoseRow dose : doses) {
			byVisit.computeIfAbsent(dose.visit(), any -> new ArrayList<>()).add(SeasonVisit.Dose.of(dose.recorded(), litres));
		}
		List<SeasonVisit> seasonVisits = visits.stream()
			.map(visit -> new SeasonVisit(visit.day().toEpochDay(), visit.technician().toString(), readings(visit),
					byVisit.getOrDefault(visit.id(), List.of()), visit.backwashed(),
					(visit.waterReplaced() != null) ? visit.waterReplaced() : 0))
			.toList();
		boolean newPlaster = visits.stream()
			.anyMatch(visit -> visit.situation() == Situation.NEW_PLASTER && visit.day().isAfter(today.minusDays(NEW_PLASTER_DAYS)));
		// a float valve and a cover are not on file; a filter that can be backwashed is
		SeasonPool facts = new SeasonPool((litres != null) ? litres / LITRES_PER_M3 : null, area,
				pool.facts().surface().cementBound(), newPlaster, false, pool.facts().hasWasteValve(), false, fillWater(), ranges(),
				(pool.facts().sanitizer() == Sanitizer.FLOATER) ? DissolvingTablets.cyaLimit(pool.facts()) : null);
		return new SeasonRecord(facts, seasonVisits, TechnicianBias.NONE, fillHardness);
	}

	/** What was read of a level, oldest first. */
	List<LevelTrend.LevelReading> readings(Level level) {
		List<LevelTrend.LevelReading> readings = new ArrayList<>();
		for (VisitRow visit : visits) {
			visit.values().forEach((tracked, value) -> {
				if (tracked.level == level) {
					readings.add(new LevelTrend.LevelReading(visit.day(), visit.id(), value,
							visit.qualifiers().getOrDefault(tracked, ReadingQualifier.EXACT)));
				}
			});
		}
		return readings;
	}

	/** What moved a level for good, oldest first. */
	List<LevelTrend.LevelDose> doses(Level level) {
		Volume volume = pool.facts().volume();
		List<LevelTrend.LevelDose> moved = new ArrayList<>();
		for (DoseRow dose : doses) {
			Map<Level, Double> changes = (volume != null) ? dose.recorded().lasting(volume.litres()).orElse(Map.of()) : Map.of();
			Double change = changes.get(level);
			if (change != null) {
				moved.add(new LevelTrend.LevelDose(dose.day(), dose.product(), change));
			}
		}
		return moved;
	}

	/** Names of what went in lately, the one used most often first. */
	List<String> recentProducts(LocalDate today) {
		Map<String, Integer> times = new LinkedHashMap<>();
		doses.stream()
			.filter(dose -> dose.day().isAfter(today.minusDays(RECENT_PRODUCT_DAYS)))
			.forEach(dose -> times.merge(dose.product(), 1, Integer::sum));
		return times.entrySet()
			.stream()
			.sorted(Map.Entry.<String, Integer>comparingByValue(Comparator.reverseOrder()))
			.map(Map.Entry::getKey)
			.toList();
	}

	@Nullable
	VisitRow lastVisit() {
		return visits.isEmpty() ? null : visits.get(visits.size() - 1);
	}

	/**
	 * Salt, TDS and borate matter only where they are kept or watched. A range without room, such as no stabilizer indoors, is a rule for
	 * dosing: within a test's error nobody can say whether it is left.
	 */
	private Map<Level, Range> ranges() {
		Map<Level, Range> ranges = new EnumMap<>(Level.class);
		for (TrackedLevel tracked : TrackedLevel.DRIFTING) {
			Range range = pool.facts().targets().range(tracked.level);
			boolean shown = tracked == TrackedLevel.CYA || tracked == TrackedLevel.CH
					|| tracked == TrackedLevel.SALT && pool.facts().sanitizer() == Sanitizer.SALT_CELL;
			if (range != null && range.acceptableHigh() > range.acceptableLow()
					&& (shown || visits.stream().anyMatch(visit -> visit.values().containsKey(tracked)))) {
				ranges.put(tracked.level, range);
			}
		}
		return ranges;
	}

	private Map<Level, Double> fillWater() {
		FillWater water = pool.facts().fill();
		Map<Level, Double> fill = new EnumMap<>(Level.class);
		for (Level level : List.of(Level.CH, Level.SALT)) {
			Double value = water.value(level);
			if (value != null) {
				fill.put(level, value);
			}
		}
		return fill;
	}

	private static Map<Level, SeasonVisit.Reading> readings(VisitRow visit) {
		Map<Level, SeasonVisit.Reading> readings = new EnumMap<>(Level.class);
		for (TrackedLevel tracked : TrackedLevel.DRIFTING) {
			Double value = visit.values().get(tracked);
			if (value != null) {
				readings.put(tracked.level,
						new SeasonVisit.Reading(value, visit.qualifiers().getOrDefault(tracked, ReadingQualifier.EXACT),
								visit.tests().precision(tracked.level)));
			}
		}
		return readings;
	}

}
