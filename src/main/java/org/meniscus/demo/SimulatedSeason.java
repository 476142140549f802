package org.meniscus.demo;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;

import org.jspecify.annotations.Nullable;
import org.meniscus.demo.DemoPool.ChlorineMethod;
import org.meniscus.demo.DemoPool.SeasonEvent;
import org.meniscus.demo.SimulatedVisit.SimulatedDose;
import org.meniscus.route.MissedReason;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;

/**
 * The past season of one invented pool. The same seed and days give the same season.
 *
 * @param visits by day
 * @param missed planned days without a visit
 * @param cellPerDay free chlorine that a cell brings when the season ends, mg/L
 */
record SimulatedSeason(List<SimulatedVisit> visits, Map<LocalDate, MissedReason> missed, double cellPerDay) {

	/** Week in which something gets into the water of one pool. */
	private static final int INCIDENT_WEEK = 27;

	private static final int BLOOM_WEEK = 13;

	/** @param weekday of the weekly visit @param first Monday of the first week @param last the last day that has passed */
	static SimulatedSeason of(DemoPool pool, long seed, DayOfWeek weekday, LocalDate first, LocalDate last) {
		return new Simulation(pool, seed, weekday, first).simulateUntil(last);
	}

	private static final class Simulation {

		private final DemoPool pool;

		private final DayOfWeek weekday;

		private final LocalDate first;

		private final Random random;

		private final PoolWaterModel model;

		private final TechnicianDosing dosing;

		private final DropTestKit kit;

		private final List<SimulatedVisit> visits = new ArrayList<>();

		private final Map<LocalDate, MissedReason> missed = new TreeMap<>();

		private @Nullable LocalDate followUpDay;

		private final DemoEquipment equipment;

		private int cleanedWeek;

		private boolean highNoted;

		private int monthOfCya;

		Simulation(DemoPool pool, long seed, DayOfWeek weekday, LocalDate first) {
			this.pool = pool;
			this.weekday = weekday;
			this.first = first;
			this.random = new Random(seed * 1009 + pool.number());
			this.model = new PoolWaterModel(pool, new DemoWeather(seed), first, random);
			this.dosing = new TechnicianDosing(pool, model.chlorineDemand(first.plusWeeks(4), 3));
			this.kit = new DropTestKit(random);
			this.equipment = new DemoEquipment(pool);
		}

		SimulatedSeason simulateUntil(LocalDate last) {
			for (LocalDate day = first; !day.isAfter(last); day = day.plusDays(1)) {
				int week = (int) ((day.toEpochDay() - first.toEpochDay()) / 7);
				boolean planned = day.getDayOfWeek() == weekday;
				if (pool.event() == SeasonEvent.ALGAE && week == BLOOM_WEEK - 1 && planned) {
					missed.put(day, MissedReason.WEATHER);
					model.startBloom();
				}
				else if (planned && week > 1 && random.nextDouble() < 0.025) {
					missed.put(day, missedReason());
				}
				else if (planned) {
					visit(day, week, false);
				}
				else if (day.equals(followUpDay)) {
					visit(day, week, true);
				}
				model.advanceDay(day);
			}
			return new SimulatedSeason(visits, missed, model.cellPerDay());
		}

		private MissedReason missedReason() {
			List<MissedReason> usual = List.of(MissedReason.NO_ACCESS, MissedReason.NO_ACCESS, MissedReason.DOG, MissedReason.WEATHER,
					MissedReason.SICK, MissedReason.CLIENT_REQUEST, MissedReason.NO_TIME);
			return usual.get(random.nextInt(usual.size()));
		}

		private void visit(LocalDate day, int week, boolean extra) {
			Readings tested = kit.test(model.water(), model.combined(), !model.cloudy(), requestedTests(day, week, extra));
			Readings readings = tested.toBuilder()
				.site(equipment.panels(model.cellPerDay(), week - cleanedWeek, tested.salt(), day))
				.build();
			dosing.remember(readings);
			boolean green = model.green();
			boolean refresh = pool.chlorineMethod() == ChlorineMethod.INDOOR && week % 2 == 1;
			List<SimulatedDose> doses = new ArrayList<>();
			Double share = dosing.shareToReplace(readings);
			if (green || model.cloudy()) {
				doses.addAll(dosing.shock(readings, green ? 15 : 10));
				followUpDay = (pool.event() == SeasonEvent.ALGAE) ? day.plusDays(2) : null;
			}
			else if (share != null) {
				model.replaceWater(share);
				dosing.waterReplaced(share);
				doses.addAll(dosing.routine(afterReplacing(readings, share), refresh));
			}
			else {
				doses.addAll(dosing.routine(readings, refresh));
			}
			doses.forEach(dose -> model.dose(TechnicianDosing.product(dose.kind()), dose.amount()));
			adjustCell(readings);
			boolean incident = pool.event() == SeasonEvent.INCIDENT && week == INCIDENT_WEEK;
			Situation situation = incident ? Situation.CONTAMINATION
					: green ? Situation.GREEN_ALGAE_LIGHT : model.cloudy() ? Situation.CLOUDY
							: refresh ? Situation.WEEKLY_REFRESH : Situation.ROUTINE;
			List<String> tasks = tasks(day, week, green);
			cleanedWeek = tasks.stream().anyMatch(task -> task.startsWith("FILTER_")) ? week : cleanedWeek;
			visits.add(new SimulatedVisit(day, extra, situation, readings, doses, share, tasks,
					toClient(readings, share, green), toOffice(readings, week)));
		}

		/** Slow levels move so little that the technician doses by what he reckons is left. */
		private static Readings afterReplacing(Readings readings, double share) {
			Double fc = readings.fc();
			return readings.toBuilder().fc((fc != null) ? Double.valueOf(fc * (1 - share)) : null).ta(null).ch(null).cya(null).build();
		}

		private void adjustCell(Readings readings) {
			Double fc = readings.fc();
			if (pool.chlorineMethod() != ChlorineMethod.SALT || fc == null) {
				return;
			}
			if (fc < 2.2) {
				model.adjustCell(1.12);
			}
			else if (fc > 3.6) {
				model.adjustCell(0.85);
			}
		}

		private DropTestKit.RequestedTests requestedTests(LocalDate day, int week, boolean extra) {
			if (extra) {
				return new DropTestKit.RequestedTests(false, false, false, false, false);
			}
			boolean month = day.getMonthValue() != monthOfCya;
			monthOfCya = day.getMonthValue();
			boolean shaded = pool.chlorineMethod() != ChlorineMethod.INDOOR;
			// hardness every sixth week where it is known to build up, else every second month
			int rhythm = (pool.chlorineMethod() == ChlorineMethod.CALHYPO || pool.fillCh() > 200) ? 6 : 9;
			return new DropTestKit.RequestedTests(week % 2 == 0, (week + pool.number()) % rhythm == 0 || week == 0,
					month && (shaded || week == 0),
					pool.chlorineMethod() == ChlorineMethod.SALT && month, pool.technician() != 1);
		}

		private List<String> tasks(LocalDate day, int week, boolean green) {
			List<String> tasks = new ArrayList<>(List.of("SKIMMED", "BASKETS_EMPTIED"));
			if (green || random.nextDouble() < 0.7) {
				tasks.add("BRUSHED");
			}
			if (!pool.small() && random.nextDouble() < 0.4) {
				tasks.add("VACUUMED");
			}
			if (pool.sandFilter() && week % 4 == 1) {
				tasks.add("FILTER_BACKWASHED");
			}
			else if (green || week % 8 == pool.number() % 8) {
				tasks.add("FILTER_CLEANED");
			}
			if (pool.event() == SeasonEvent.LEAK && week > 10) {
				tasks.add("WATER_LEVEL_SET");
			}
			if (pool.chlorineMethod() == ChlorineMethod.SALT && day.getDayOfMonth() <= 7) {
				tasks.add("CELL_CHECKED");
			}
			tasks.add("GATE_LOCKED");
			return tasks;
		}

		private @Nullable String toClient(Readings readings, @Nullable Double share, boolean green) {
			if (green) {
				return "algae";
			}
			if (share != null) {
				return "replaced";
			}
			boolean high = readings.cya() != null && readings.cya() >= 100;
			if (high && !highNoted) {
				highNoted = true;
				return "stabilizer";
			}
			return null;
		}

		private @Nullable String toOffice(Readings readings, int week) {
			if (pool.event() == SeasonEvent.LEAK && (week == 15 || week == 22)) {
				return "leak";
			}
			Double fc = readings.fc();
			return (fc != null && fc < 0.5 && week > 1 && random.nextDouble() < 0.3) ? "empty" : null;
		}

	}

}
