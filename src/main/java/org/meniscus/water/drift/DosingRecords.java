package org.meniscus.water.drift;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.XorShiftRandom;

/** Doses on record at one pool: what they put in day by day, and the routine that they show. */
final class DosingRecords {

	/** A routine dose that acts on the day is meant to last so many days. */
	private static final int ROUTINE_DAYS = 7;

	private final long start;

	private final Weather weather;

	private final int particleCount;

	/** ppm in the recorded volume by kind, level and day since the start. */
	private final double[][][] doses = new double[DoseKind.values().length][SlowLevels.COUNT][];

	private final Map<DoseKind, RoutineDosing> routines = new EnumMap<>(DoseKind.class);

	private final List<DriftNote> notes;

	private int unknownStrengths;

	DosingRecords(long start, Weather weather, int particleCount, List<DriftNote> notes) {
		this.start = start;
		this.weather = weather;
		this.particleCount = particleCount;
		this.notes = notes;
	}

	Map<DoseKind, RoutineDosing> routines() {
		return routines;
	}

	/** Doses whose strength is not known. */
	int unknownStrengths() {
		return unknownStrengths;
	}

	/** Takes in the routine doses of a visit, and the gaps in their records. */
	void addRoutine(SeasonVisit visit, double[] weight, double[] unrecordedDoses, XorShiftRandom random) {
		for (SeasonVisit.Dose dose : visit.doses()) {
			if (dose.kind().routine()) {
				routines.computeIfAbsent(dose.kind(), kind -> new RoutineDosing(particleCount));
			}
		}
		routines.forEach((kind, routine) -> {
			routine.passVisit(visit.day());
			boolean recorded = false;
			for (SeasonVisit.Dose dose : visit.doses()) {
				if (dose.kind() == kind) {
					recorded |= addRoutine(dose, visit.day(), routine);
				}
			}
			routine.updateUse(recorded, weight, unrecordedDoses, random);
		});
	}

	private boolean addRoutine(SeasonVisit.Dose dose, long day, RoutineDosing routine) {
		double[] change = change(dose, day);
		if (change == null) {
			return false;
		}
		int spreadDays = Math.max(1, dose.spreadDays());
		schedule(dose.kind(), change, day, spreadDays);
		double demand = 0;
		int lasts = (dose.spreadDays() > 1) ? dose.spreadDays() : ROUTINE_DAYS;
		for (int d = 0; d < lasts; d++) {
			demand += weather.demand[Weather.dayOfYear(day + d)];
		}
		routine.record(change, dose.chlorine(), demand, day + lasts);
		return true;
	}

	/** Takes in the doses of a visit that set a level right. */
	void addCorrections(SeasonVisit visit) {
		for (SeasonVisit.Dose dose : visit.doses()) {
			if (!dose.kind().routine()) {
				double[] change = change(dose, visit.day());
				if (change != null) {
					schedule(dose.kind(), change, visit.day(), Math.max(1, dose.spreadDays()));
				}
			}
		}
	}

	/** ppm by level; null when it is not known or not plausible. */
	private double @Nullable [] change(SeasonVisit.Dose dose, long day) {
		if (dose.change() == null) {
			unknownStrengths++;
			return null;
		}
		double[] change = new double[SlowLevels.COUNT];
		for (int level = 0; level < change.length; level++) {
			change[level] = dose.change().getOrDefault(SlowLevels.ALL.get(level), 0.0);
			if (Math.abs(change[level]) > Priors.LARGEST_DOSE[level]) {
				notes.add(DriftNote.of(DriftNote.Code.DOSE_DOUBTED, SlowLevels.ALL.get(level), day, change[level]));
				return null;
			}
		}
		return change;
	}

	private void schedule(DoseKind kind, double[] change, long day, int spreadDays) {
		int from = (int) (day - start);
		for (int level = 0; level < change.length; level++) {
			if (change[level] == 0) {
				continue;
			}
			double[] byDay = doses[kind.ordinal()][level];
			if (byDay == null || byDay.length < from + spreadDays) {
				byDay = (byDay == null) ? new double[Math.max(380, from + spreadDays)] : Arrays.copyOf(byDay, from + spreadDays + 100);
				doses[kind.ordinal()][level] = byDay;
			}
			for (int d = 0; d < spreadDays; d++) {
				byDay[from + d] += change[level] / spreadDays;
			}
		}
	}

	/** ppm of a level by one kind on a day. */
	double dose(DoseKind kind, int level, long day) {
		double[] byDay = doses[kind.ordinal()][level];
		int at = (int) (day - start);
		return (byDay != null && at < byDay.length) ? byDay[at] : 0;
	}

	/** ppm of a level by all kinds on so many days. */
	double[] total(int level, long from, int days) {
		double[] total = new double[days];
		for (DoseKind kind : DoseKind.values()) {
			double[] byDay = doses[kind.ordinal()][level];
			int offset = (int) (from - start);
			for (int d = 0; byDay != null && d < days && offset + d < byDay.length; d++) {
				total[d] += byDay[offset + d];
			}
		}
		return total;
	}

	/** ppm of a level a day at a demand of one that the particle takes to have been put in at the last visit though no record says so. */
	double unrecordedRate(int level, int particle) {
		double rate = 0;
		for (RoutineDosing routine : routines.values()) {
			if (routine.unrecorded[particle]) {
				rate += routine.rate(level);
			}
		}
		return rate;
	}

	void gather(int[] from) {
		routines.values().forEach(routine -> routine.gather(from));
	}

}
