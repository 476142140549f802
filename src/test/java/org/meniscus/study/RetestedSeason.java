package org.meniscus.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.tools.SeasonDataset.NamedSeason;
import org.meniscus.water.drift.SeasonRecord;
import org.meniscus.water.drift.SeasonVisit;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.XorShiftRandom;

/**
 * A simulated pool-season whose true levels are tested anew, with errors as {@link TestPrecision} has them, a bias of the technician and 2 %
 * of slips (halved or doubled); something may change on a day without a record.
 *
 * @param fortnightly CYA and CH at every other visit; otherwise what was tested when, as on record
 */
record RetestedSeason(NamedSeason season, TrueLevels truth, boolean fortnightly, long seed) {

	/** Marks of the tube, ppm CYA; from memory. */
	private static final double[] MARKS = { 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120, 150 };

	private static final double SLIPS = 0.02;

	/** What the drain took away dwindles by so much a day, as the level itself would. Assumption: dilution and breakdown of a usual pool. */
	private static final double DWINDLES_PER_DAY = 0.002;

	/** Where no hardness of the fill water is on record, ppm. Assumption. */
	private static final double USUAL_FILL_HARDNESS = 160;

	/** Put in after a pool was rebuilt, ppm in the recorded volume. Assumption. */
	private static final Map<Level, Double> REBUILT = Map.of(Level.CYA, 30.0, Level.CH, 100.0);

	/**
	 * @param day after the visit on which it took place
	 * @param share of the water replaced
	 * @param leak share of the water a day from then on
	 * @param doses what doses do from then on, times what they did: a pool was rebuilt, and both levels are raised that day, on record
	 * @param reagent what tests of one level show from then on, times what is true
	 * @param level that the reagent is for
	 */
	record Change(long day, double share, double leak, double doses, double reagent, Level level) {

		static Change drain(long day, double share) {
			return new Change(day, share, 0, 1, 1, Level.CYA);
		}

		static Change leak(long day, double perDay) {
			return new Change(day, 0, perDay, 1, 1, Level.CYA);
		}

		static Change volume(long day, double doses) {
			return new Change(day, 0, 0, doses, 1, Level.CYA);
		}

		static Change reagent(long day, Level level, double factor) {
			return new Change(day, 0, 0, 1, factor, level);
		}

		private List<SeasonVisit.Dose> corrections() {
			return (doses == 1) ? List.of()
					: List.of(new SeasonVisit.Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, REBUILT.get(Level.CYA)), 0),
							new SeasonVisit.Dose(DoseKind.CALCIUM_CHLORIDE, 0, Map.of(Level.CH, REBUILT.get(Level.CH)), 0));
		}

		private double shown(Level tested, long on) {
			return (tested == level && on > day) ? reagent : 1;
		}

	}

	/** True levels by day of the season. */
	record TrueLevels(Map<Long, Double> cya, Map<Long, Double> ch) {

		double at(Level level, long day) {
			return ((level == Level.CYA) ? cya : ch).get(day);
		}

		/** By season. */
		static Map<String, TrueLevels> read(Path file) throws IOException {
			Map<String, TrueLevels> seasons = new HashMap<>();
			List<String> lines = Files.readAllLines(file);
			List<String> columns = List.of(lines.get(0).split(",", -1));
			for (String line : lines.subList(1, lines.size())) {
				String[] row = line.split(",", -1);
				TrueLevels season = seasons.computeIfAbsent(row[columns.indexOf("season")],
						name -> new TrueLevels(new HashMap<>(), new HashMap<>()));
				long day = Long.parseLong(row[columns.indexOf("day")]);
				season.cya.put(day, Double.valueOf(row[columns.indexOf("cya")]));
				season.ch.put(day, Double.valueOf(row[columns.indexOf("ch")]));
			}
			return seasons;
		}

	}

	/** Of this season's own, and of the purpose. */
	XorShiftRandom random(String purpose) {
		return new XorShiftRandom(seed * 1_000_003 + season.name().hashCode() * 31L + purpose.hashCode());
	}

	/** The same errors with and without a change. */
	SeasonRecord record(@Nullable Change change) {
		Map<Level, XorShiftRandom> random = new EnumMap<>(Level.class);
		Map<Level, Double> bias = new EnumMap<>(Level.class);
		for (Level level : List.of(Level.CYA, Level.CH)) {
			random.put(level, random(level.name()));
			bias.put(level, precision(level).bias() * random.get(level).normal());
		}
		List<SeasonVisit> visits = new ArrayList<>();
		for (SeasonVisit visit : season.record().visits()) {
			Map<Level, SeasonVisit.Reading> readings = new EnumMap<>(Level.class);
			for (Level level : List.of(Level.CYA, Level.CH)) {
				if (fortnightly ? visits.size() % 2 == 0 : visit.readings().containsKey(level)) {
					double shown = level(level, visit.day(), change) * Math.exp(bias.get(level))
							* ((change != null) ? change.shown(level, visit.day()) : 1);
					readings.put(level, test(shown, precision(level), level, random.get(level)));
				}
			}
			List<SeasonVisit.Dose> doses = new ArrayList<>(visit.doses());
			if (change != null && change.day() == visit.day()) {
				doses.addAll(change.corrections());
			}
			visits.add(new SeasonVisit(visit.day(), visit.technician(), readings, doses, visit.backwashed(), visit.replaced()));
		}
		return new SeasonRecord(season.record().pool(), visits, season.record().bias());
	}

	private TestPrecision precision(Level level) {
		return season.record()
			.visits()
			.stream()
			.filter(visit -> visit.readings().containsKey(level))
			.map(visit -> visit.readings().get(level).precision())
			.findFirst()
			.orElse(TestPrecision.usual(level));
	}

	private double level(Level level, long day, @Nullable Change change) {
		double now = truth.at(level, day - season.first());
		if (change == null || day <= change.day()) {
			return now;
		}
		double fill = (level == Level.CH) ? season.record().pool().fill().getOrDefault(Level.CH, USUAL_FILL_HARDNESS) : 0;
		if (change.leak() > 0) {
			return Math.max(0, fill + (now - fill) * Math.exp(-change.leak() * (day - change.day())));
		}
		double taken = change.share() * (truth.at(level, change.day() - season.first()) - fill) * dwindled(day - change.day());
		double corrected = (change.doses() == 1) ? 0 : change.doses() * REBUILT.get(level) * dwindled(day - change.day());
		return Math.max(0, now - taken + corrected + (change.doses() - 1) * dosed(level, change.day(), day));
	}

	private static double dwindled(long days) {
		return Math.exp(-DWINDLES_PER_DAY * days);
	}

	/** By doses on record since a day, as far as it is still there, ppm in the recorded volume. */
	private double dosed(Level level, long since, long until) {
		double sum = 0;
		for (SeasonVisit visit : season.record().visits()) {
			for (SeasonVisit.Dose dose : visit.doses()) {
				Map<Level, Double> moved = dose.change();
				double days = Math.max(1, dose.spreadDays());
				if (moved != null && visit.day() > since && visit.day() < until) {
					sum += moved.getOrDefault(level, 0.0) * Math.min(1, (until - visit.day()) / days) * dwindled(until - visit.day());
				}
			}
		}
		return sum;
	}

	private static SeasonVisit.Reading test(double level, TestPrecision precision, Level name, XorShiftRandom random) {
		boolean tube = precision.equals(TestPrecision.TURBIDITY_TUBE);
		double spread = Math.hypot(precision.relative() * level, precision.absolute());
		double normal = random.normal();
		double slip = random.uniform();
		double seen = Math.max(0, level + spread * normal) * ((slip < SLIPS / 2) ? 0.5 : (slip < SLIPS) ? 2 : 1);
		if (tube && seen < MARKS[0]) {
			return new SeasonVisit.Reading(MARKS[0], ReadingQualifier.BELOW, precision);
		}
		return new SeasonVisit.Reading(tube ? nearestMark(seen) : precision.step() * Math.round(seen / precision.step()),
				ReadingQualifier.EXACT, precision);
	}

	private static double nearestMark(double ppm) {
		double nearest = MARKS[0];
		for (double mark : MARKS) {
			nearest = (Math.abs(mark - ppm) < Math.abs(nearest - ppm)) ? mark : nearest;
		}
		return nearest;
	}

}
