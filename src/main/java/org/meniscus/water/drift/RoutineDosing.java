package org.meniscus.water.drift;

import java.util.Arrays;

import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/** How much of one routine product is put in, estimated from its records (older ones count less), and in which particles it still is. */
final class RoutineDosing {

	/** Days after which a record counts a third. Assumption. */
	private static final double MEMORY_DAYS = 60;

	/** Recorded at this share of the visits or more, a visit without it is a gap in the records rather than a visit that needed none. */
	private static final double MOST_VISITS = 0.7;

	/** Chance per visit that a product in use is given up, and that one given up comes back. Assumption. */
	private static final double GIVEN_UP = 0.006, TAKEN_UP = 0.02;

	/** ppm of each level that were put in. */
	private final double[] amounts = new double[SlowLevels.COUNT];

	private double chlorine;

	/** For how much demand. */
	private double demand;

	private long countedTo = Long.MIN_VALUE;

	private int visits;

	private int records;

	private int visitsAtLastRecord;

	/** Day up to which the newest record lasts. */
	private long coveredUntil = Long.MIN_VALUE;

	/** By particle: whether the product is in use. */
	final boolean[] inUse;

	/** By particle: whether it was put in at the last visit though no record says so. */
	final boolean[] unrecorded;

	RoutineDosing(int particleCount) {
		this.inUse = new boolean[particleCount];
		this.unrecorded = new boolean[particleCount];
	}

	/** Whether it used to be recorded at most visits. */
	private boolean recordedAtMostVisits() {
		return records >= 2 && records >= MOST_VISITS * visitsAtLastRecord;
	}

	/** A visit passes, with or without a record. */
	void passVisit(long day) {
		if (records > 0) {
			visits++;
		}
		if (countedTo > Long.MIN_VALUE && day > countedTo) {
			double decay = Math.exp(-(day - countedTo) / MEMORY_DAYS);
			for (int i = 0; i < amounts.length; i++) {
				amounts[i] *= decay;
			}
			chlorine *= decay;
			demand *= decay;
		}
		countedTo = Math.max(day, countedTo);
	}

	/** A dose is on record at the visit. @param demand of the days it is meant to last for */
	void record(double[] change, double chlorine, double demand, long until) {
		if (records == 0) {
			visits = 1;
		}
		records++;
		visitsAtLastRecord = visits;
		for (int i = 0; i < amounts.length; i++) {
			amounts[i] += change[i];
		}
		this.chlorine += chlorine;
		this.demand += demand;
		coveredUntil = until;
	}

	/** Weighs the particles by whether the visit has a record, and decides in each whether a gap is a dose nobody wrote down. */
	void updateUse(boolean recorded, double[] weight, double[] unrecordedDoses, XorShiftRandom random) {
		if (!recordedAtMostVisits()) {
			Arrays.fill(inUse, records > 0);
			Arrays.fill(unrecorded, false);
			return;
		}
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			double gap = unrecordedDoses[i];
			unrecorded[i] = false;
			if (recorded) {
				weight[i] *= inUse[i] ? (1 - GIVEN_UP) * (1 - gap) : TAKEN_UP;
				inUse[i] = true;
			}
			else if (inUse[i]) {
				double silent = GIVEN_UP + (1 - GIVEN_UP) * gap;
				weight[i] *= silent;
				inUse[i] = random.uniform() * silent >= GIVEN_UP;
				unrecorded[i] = inUse[i];
			}
			sum += weight[i];
		}
		Resampling.normalize(weight, sum);
	}

	/** ppm a day at a demand of one. */
	double rate(int level) {
		return perDemand(amounts[level]);
	}

	/** Free chlorine, ppm a day at a demand of one. */
	double chlorineRate() {
		return perDemand(chlorine);
	}

	private double perDemand(double amount) {
		return (demand > 0) ? amount / demand : 0;
	}

	/** Days from a day on for which doses on record still last, at most {@code limit}. */
	int daysCovered(long from, int limit) {
		return (int) Math.max(0, Math.min(limit, coveredUntil - from));
	}

	void gather(int[] from) {
		Resampling.gather(inUse, from);
		Resampling.gather(unrecorded, from);
	}

}
