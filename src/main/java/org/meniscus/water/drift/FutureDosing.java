package org.meniscus.water.drift;

import java.util.Arrays;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.XorShiftRandom;

/**
 * What the service puts in from the day of a forecast on, for one ensemble member at a time: the routine goes on until it is given up, or
 * as a scenario says. Rates are ppm a day at a demand of one and constant over segments of days.
 */
final class FutureDosing {

	/** Free chlorine a warm day takes where no chlorine is on record, ppm. Assumption. */
	private static final double DEFAULT_CHLORINE = 1.35;

	/** Chance per day that a product in use is given up. Assumption, the same as the filter's per visit. */
	private static final double GIVEN_UP = 0.006 / 7;

	/** How much the routine to come differs from the one so far, spread of the logarithm. Assumption. */
	private static final double ROUTINE_SPREAD = 0.15;

	private final long from;

	private final int days;

	private final LevelParticleFilter filter;

	private final @Nullable Scenario scenario;

	private final DoseKind[] kinds;

	private final RoutineDosing[] routines;

	/** Days from the first on for which doses on record still last. */
	private final int[] covered;

	/** Of the member: first day without the product, -1 where it is not in use. */
	private final int[] until;

	private int particle;

	/** Of the member: true change of a level per ppm on the recorded volume. */
	private double doseFactor;

	/** Of the member: routine to come over the one so far. */
	private double routineFactor;

	/** Change of each level in the segment. */
	final double[] rate = new double[SlowLevels.COUNT];

	/** The part of the CYA rate that comes from tablets of the routine. */
	private double tabletCyaRate;

	/** Free chlorine by product in the segment, on the recorded volume. */
	final double[] chlorineRate = new double[DoseKind.values().length];

	/** Fill water in the segment, ppm. */
	final double[] fill = new double[SlowLevels.COUNT];

	FutureDosing(LevelParticleFilter filter, int days, @Nullable Scenario scenario) {
		this.filter = filter;
		this.from = filter.day;
		this.days = days;
		this.scenario = scenario;
		Map<DoseKind, RoutineDosing> byKind = filter.dosing.routines();
		this.kinds = byKind.keySet().toArray(DoseKind[]::new);
		this.routines = byKind.values().toArray(RoutineDosing[]::new);
		this.covered = Arrays.stream(routines).mapToInt(routine -> routine.daysCovered(from, days)).toArray();
		this.until = new int[kinds.length];
	}

	/** Draws how the routine of one member goes on. */
	void draw(int particle, double doseFactor, double[] fillWater, XorShiftRandom random) {
		this.particle = particle;
		this.doseFactor = doseFactor;
		this.routineFactor = random.lognormal(1, ROUTINE_SPREAD);
		for (int k = 0; k < kinds.length; k++) {
			double last = random.exponential(1 / GIVEN_UP);
			until[k] = routines[k].inUse[particle] ? (int) Math.min(days + 1, last) : -1;
		}
		for (int level : filter.followed) {
			fill[level] = fillWater[level];
		}
	}

	/** Sets the rates of the segment that begins on day {@code d}. @return first day after it */
	int startSegment(int d) {
		Arrays.fill(rate, 0);
		Arrays.fill(chlorineRate, 0);
		tabletCyaRate = 0;
		int next = days;
		double allChlorine = 0;
		for (int k = 0; k < kinds.length; k++) {
			allChlorine += routines[k].inUse[particle] ? routineFactor * routines[k].chlorineRate() : 0;
			if (d >= covered[k] && d < until[k]) {
				for (int level : filter.followed) {
					rate[level] += doseFactor * routineFactor * routines[k].rate(level);
				}
				if (kinds[k] == DoseKind.TABLETS) {
					tabletCyaRate = doseFactor * routineFactor * routines[k].rate(SlowLevels.CYA);
				}
				chlorineRate[kinds[k].ordinal()] += routineFactor * routines[k].chlorineRate();
				next = Math.min(next, until[k]);
			}
			else if (d < covered[k]) {
				next = Math.min(next, covered[k]);
			}
		}
		return (scenario == null) ? next
				: Math.min(next, apply(scenario, d, (allChlorine > 0) ? allChlorine : routineFactor * DEFAULT_CHLORINE / doseFactor));
	}

	/** What a scenario makes of the segment. @return the next day on which it changes something */
	private int apply(Scenario scenario, int d, double allChlorine) {
		int next = days;
		for (Scenario.Change change : scenario.changes()) {
			int day = (int) Math.max(0, change.day() - from);
			if (day > d) {
				next = Math.min(next, day);
			}
			else if (change instanceof Scenario.Change.ProductSwitch product) {
				replaceChlorine(product.shares(), allChlorine);
			}
			else if (change instanceof Scenario.Change.Cell) {
				replaceChlorine(Map.of(), allChlorine);
			}
			else if (change instanceof Scenario.Change.FillWaterChange water) {
				water.levels().forEach((level, ppm) -> {
					if (SlowLevels.ALL.contains(level)) {
						fill[SlowLevels.ALL.indexOf(level)] = ppm;
					}
				});
			}
		}
		return next;
	}

	/** All chlorine from these products instead of the routine; from none where a cell makes it. */
	private void replaceChlorine(Map<DoseKind, Double> shares, double allChlorine) {
		Arrays.fill(rate, 0);
		Arrays.fill(chlorineRate, 0);
		tabletCyaRate = 0;
		shares.forEach((kind, share) -> {
			chlorineRate[kind.ordinal()] += share * allChlorine;
			for (int level = 0; level < rate.length; level++) {
				rate[level] += doseFactor * share * allChlorine * kind.perChlorine(SlowLevels.ALL.get(level));
			}
		});
	}

	/**
	 * CYA from which on tablets stop. Where CYA stands above it already and tablets go in all the same, they are not taken to stop.
	 */
	double tabletCyaLimit(double cyaNow) {
		Double limit = filter.pool.tabletCyaLimit();
		return (limit != null && cyaNow < limit) ? limit : Double.POSITIVE_INFINITY;
	}

	double rate(int level, boolean tabletsStopped) {
		return (tabletsStopped && level == SlowLevels.CYA) ? rate[level] - tabletCyaRate : rate[level];
	}

}
