package org.meniscus.water.drift;

/** How much of one product is put in week by week, learnt from its records; old ones count less. */
final class RoutineDosing {

	/** Days after which a record counts a third. Assumption. */
	private static final double MEMORY = 60;

	/** Recorded at this share of the visits or more, a visit without it is a gap in the records rather than a visit that needed none. */
	private static final double EVERY_VISIT = 0.7;

	private final int levels;

	/** ppm of each level, and last of all of chlorine, that were put in. */
	private final double[] amounts;

	/** For how much demand. */
	private double demand;

	private long countedTo = Long.MIN_VALUE;

	private int visits;

	private int records;

	private int visitsAtLastRecord;

	/** Day up to which the newest record lasts. */
	long covered = Long.MIN_VALUE;

	RoutineDosing(int levels) {
		this.levels = levels;
		this.amounts = new double[levels + 1];
	}

	boolean hasRecords() {
		return records > 0;
	}

	/** Whether it used to be recorded at nearly every visit. */
	boolean recordedAtMostVisits() {
		return records >= 2 && records >= EVERY_VISIT * visitsAtLastRecord;
	}

	/** A visit passes. */
	void passVisit(long day) {
		if (records > 0) {
			visits++;
		}
		if (countedTo > Long.MIN_VALUE && day > countedTo) {
			double keep = Math.exp(-(day - countedTo) / MEMORY);
			for (int i = 0; i < amounts.length; i++) {
				amounts[i] *= keep;
			}
			demand *= keep;
		}
		countedTo = Math.max(day, countedTo);
	}

	/** It is on record at the visit. @param demand of the days it is meant to last for */
	void record(double[] change, double chlorine, double demand, long until) {
		if (records == 0) {
			visits = 1;
		}
		records++;
		visitsAtLastRecord = visits;
		for (int i = 0; i < levels; i++) {
			amounts[i] += change[i];
		}
		amounts[levels] += chlorine;
		this.demand += demand;
		covered = until;
	}

	/** ppm a day at a demand of one. */
	double rate(int level) {
		return (demand > 0) ? amounts[level] / demand : 0;
	}

	double chlorineRate() {
		return rate(levels);
	}

}
