package org.meniscus.route.web;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.PersonSummary;
import org.meniscus.route.DaySheet;
import org.meniscus.route.DayStop;
import org.meniscus.route.MissedReason;
import org.meniscus.route.StopId;
import org.meniscus.route.StopState;
import org.meniscus.ui.EquipmentFormatter;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;
import org.springframework.web.util.UriUtils;

/**
 * A day's stops as the technician's page shows them.
 *
 * @param technician whose day it is, or null for everybody's
 * @param open stops that are neither done nor missed
 * @param truckList what was used at the last visits of the open stops, the most used first
 */
record TodayPage(LocalDate day, String text, boolean today, LocalDate before, LocalDate after, @Nullable PersonSummary technician,
		List<PersonSummary> choices, List<TechnicianStops> groups, int count, long open, List<TruckItem> truckList) {

	/** One technician's stops. */
	record TechnicianStops(String technician, List<StopView> stops) {
	}

	/**
	 * @param map opens the device's own map application; see today.js for devices that do not know it
	 * @param closed the last visit left the pool closed to swimmers
	 * @param outOfIdeal readings that are drifting or out of range
	 * @param inRange readings in range as one text; empty when there are none
	 * @param activePlan day of the plan that has a step due here; null when none has
	 * @param openWork pieces of work that the office has planned here
	 * @param other readings that have no range in this pool as one text; empty when there are none
	 */
	record StopView(StopId id, PoolId pool, int place, String client, String name, String address, String map, @Nullable String access,
			boolean accessLater, String equipment, String sanitizer, @Nullable String lastOn, boolean closed, List<ReadingAlert> outOfIdeal,
			String inRange,
			String other,
			List<String> used, StopState state, @Nullable MissedReason missedReason, @Nullable String missedNote, @Nullable UUID visit,
			@Nullable String activePlan, int openWork) {

		public boolean open() {
			return state == StopState.PLANNED;
		}

	}

	/** A reading that is not in range. @param state code under {@code level.state.*} */
	record ReadingAlert(String label, String value, String state, boolean low) {
	}

	/** @param pools at how many of the open stops it was used last time */
	record TruckItem(String product, String amount, int pools) {
	}

	/** @param texts in the reader's language */
	static TodayPage of(DaySheet sheet, UnitSystem units, Wording.Texts texts, Locale locale) {
		Map<String, List<StopView>> byTechnician = new LinkedHashMap<>();
		for (DayStop stop : sheet.stops()) {
			String name = sheet.choices()
				.stream()
				.filter(person -> person.id().equals(stop.line().technician()))
				.map(PersonSummary::name)
				.findFirst()
				.orElse("");
			byTechnician.computeIfAbsent(name, key -> new ArrayList<>()).add(stop(stop, units, texts, locale));
		}
		List<TechnicianStops> groups = byTechnician.entrySet().stream().map(entry -> new TechnicianStops(entry.getKey(), entry.getValue()))
			.toList();
		return new TodayPage(sheet.day(), QuantityFormatter.weekdayAndDate(sheet.day(), locale), sheet.day().equals(sheet.today()),
				sheet.day().minusDays(1),
				sheet.day().plusDays(1), sheet.technician(), sheet.choices(), groups, sheet.stops().size(),
				sheet.stops().stream().filter(stop -> stop.line().state() == StopState.PLANNED).count(), truckList(sheet.stops(), units));
	}

	private static StopView stop(DayStop stop, UnitSystem units, Wording.Texts texts, Locale locale) {
		PoolSummary pool = stop.pool();
		VisitRecord last = stop.lastVisit();
		List<ReadingAlert> off = new ArrayList<>();
		List<String> fine = new ArrayList<>();
		List<String> other = new ArrayList<>();
		List<String> used = new ArrayList<>();
		if (last != null) {
			for (Level level : last.readings().tested()) {
				LevelState state = state(pool, last, level);
				String value = value(last, level, units);
				if (state == null) {
					// total chlorine says nothing that free and combined do not
					if (level != Level.TC) {
						other.add(LevelNames.code(level, texts) + " " + value);
					}
				}
				else if (state.state() != LevelState.State.IN_RANGE) {
					off.add(new ReadingAlert(LevelNames.code(level, texts), value, state.state().name(),
							state.direction() == LevelState.Direction.LOW));
				}
				else {
					fine.add(LevelNames.code(level, texts) + " " + value);
				}
			}
			last.doses().forEach(dose -> used.add(dose.productName() + ": " + QuantityFormatter.amount(units, dose.unit(), dose.amount())));
		}
		String address = pool.address();
		return new StopView(stop.line().id(), stop.line().pool(), stop.line().place(), pool.clientName(), pool.name(), address,
				map(pool, address), stop.accessNotes(), stop.accessNotes() == null,
				EquipmentFormatter.describe(pool.equipmentNotes(), pool.facts().equipment(), units, texts),
				pool.facts().sanitizer().name(),
				(last != null) ? QuantityFormatter.weekdayAndDate(last.performedOn(), locale) : null,
				last != null && last.closed(), off, String.join(", ", fine),
				String.join(", ", other),
				used, stop.line().state(),
				stop.line().missedReason(), stop.line().missedNote(), stop.line().visit(),
				(stop.activePlan() != null) ? QuantityFormatter.weekdayAndDate(stop.activePlan().madeOn(), locale) : null, stop.openWork());
	}

	private static @Nullable LevelState state(PoolSummary pool, VisitRecord last, Level level) {
		Range range = pool.facts().targets().range(level);
		Double value = last.readings().value(level);
		return (range != null && value != null) ? LevelState.of(level, value, last.readings().qualifier(level), range) : null;
	}

	private static String value(VisitRecord last, Level level, UnitSystem units) {
		double value = Objects.requireNonNull(last.readings().value(level));
		ReadingQualifier qualifier = last.readings().qualifier(level);
		String sign = (qualifier != ReadingQualifier.EXACT) ? qualifier.sign() + " " : "";
		return (level == Level.TEMPERATURE) ? QuantityFormatter.temperature(units, value)
				: sign + String.format(Locale.US, "%." + level.decimals() + "f", value) + ((level.unit() == Level.Unit.PPB) ? " ppb" : "");
	}

	/**
	 * RFC 5870 with the query that Android's maps read, so that the address is found even where the coordinates are unknown
	 * (0,0 then means: search). It names no provider; which application opens is the phone's business.
	 */
	static String map(PoolSummary pool, String address) {
		String place = (pool.latitude() != null && pool.longitude() != null)
				? String.format(Locale.US, "%.5f,%.5f", pool.latitude(), pool.longitude()) : "0,0";
		return "geo:" + place + "?q=" + UriUtils.encode(address, StandardCharsets.UTF_8);
	}

	private static List<TruckItem> truckList(List<DayStop> stops, UnitSystem units) {
		record Product(String name, AmountUnit unit) {
		}
		Map<Product, List<Double>> amounts = new LinkedHashMap<>();
		for (DayStop stop : stops) {
			if (stop.line().state() == StopState.PLANNED && stop.lastVisit() != null) {
				Map<Product, Double> here = stop.lastVisit()
					.doses()
					.stream()
					.collect(Collectors.groupingBy(dose -> new Product(dose.productName(), dose.unit()),
							Collectors.summingDouble(DoseRecord::amount)));
				here.forEach((product, amount) -> amounts.computeIfAbsent(product, key -> new ArrayList<>()).add(amount));
			}
		}
		return amounts.entrySet()
			.stream()
			.map(entry -> new TruckItem(entry.getKey().name(),
					QuantityFormatter.amount(units, entry.getKey().unit(),
							entry.getValue().stream().mapToDouble(Double::doubleValue).sum()),
					entry.getValue().size()))
			.sorted(Comparator.comparing(TruckItem::pools).reversed().thenComparing(TruckItem::product))
			.toList();
	}

}
