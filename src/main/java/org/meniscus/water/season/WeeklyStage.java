package org.meniscus.water.season;

import org.meniscus.water.assess.Assessor;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.PoolKind;

/**
 * What a week at one CYA costs with so much chlorine from tablets, feeder or cell: the rest is poured at each visit to the FC from which it
 * lasts until the next with the chance asked, or to the ceiling.
 *
 * @param supplied FC by tablets, feeder or cell, ppm in the week
 * @param poured FC poured, ppm in the week
 * @param daysBelow expected days on which FC is below its minimum
 * @param allowed false where so many tablets overfeed, or lift the minimum too near the ceiling
 */
record WeeklyStage(double supplied, double poured, double daysBelow, boolean allowed) {

	private static final double WEEK_DAYS = 7;

	/** Standard deviation of ln use: from week to week and what is not known of the pool; assumption. */
	private static final double LOG_DEVIATION = 0.3;

	/** Relative standard deviation of what tablets and cells bring; assumption. */
	private static final double SUPPLY_DEVIATION = 0.2;

	/** A cell or feeder is set to hold this FC, ppm, the middle of the usual range, or so many times the minimum; assumption. */
	private static final double HELD_FC = 3, HELD_ABOVE = 1.3;

	/**
	 * @param cya ppm at the start of the week
	 * @param celsius of the water
	 * @param steps tablets, or steps of the feeder, in the week; only where visits put them in
	 * @param cellCapacity most a cell brings, ppm FC a day
	 */
	static WeeklyStage of(SeasonProblem problem, double cya, double celsius, int steps, double cellCapacity) {
		PoolKind kind = problem.kind();
		double byTablets = steps * problem.tabletStep();
		double meanCya = cya + 0.5 * byTablets * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
		double rate = problem.use() * kind.firstOrderRate(celsius, meanCya);
		double constant = problem.use() * kind.zeroOrderRate(celsius);
		double supply = switch (problem.supply()) {
			case POURED -> 0;
			case TABLETS -> byTablets / WEEK_DAYS;
			case FED_BY_OTHERS -> rate * held(problem, cya) + constant;
			case CELL -> Math.min(cellCapacity, rate * held(problem, cya) + constant);
		};
		double endCya = cya + (problem.supply() == Supply.CELL ? 0 : supply * WEEK_DAYS * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE);
		double minimum = problem.fcToHold(endCya);
		ChlorineDemand demand = new ChlorineDemand(rate, constant, supply, 0, LOG_DEVIATION, SUPPLY_DEVIATION * supply, 0);
		double days = problem.visitDays();
		double start = start(problem, demand, minimum);
		double end = demand.expected(start, days);
		boolean allowed = steps == 0 || (endCya <= problem.cyaLimit() && end <= problem.ceiling()
				&& endCya <= cyaCap(problem.cyaPerFc(), problem.ceiling(), demand.expected(problem.ceiling(), days)));
		return new WeeklyStage(supply * WEEK_DAYS, Math.max(0, start - end) * WEEK_DAYS / days,
				demand.expectedDaysBelow(start, 0, days, minimum) * WEEK_DAYS / days, allowed);
	}

	/**
	 * CYA up to which tablets may bring it, ppm: as far as doses are to hold the minimum it asks for, and beyond that as far as it is still
	 * there at the next visit when FC starts from the ceiling. Pools that use up more than the ceiling in an interval need tablets most: what
	 * their CYA costs is told by the value of the years ahead.
	 *
	 * @param ceiling highest FC of a routine dose, ppm
	 * @param fcFromCeiling FC expected at the next visit from the ceiling, tablets counted in, ppm
	 */
	static double cyaCap(double cyaPerFc, double ceiling, double fcFromCeiling) {
		return Math.max(Assessor.cyaToHold(cyaPerFc, ceiling), cyaPerFc * fcFromCeiling);
	}

	/** FC after a visit, ppm: it lasts with the chance asked, as far as the ceiling allows. */
	private static double start(SeasonProblem problem, ChlorineDemand demand, double minimum) {
		double scale = Math.exp(problem.holdQuantile() * LOG_DEVIATION);
		double rate = scale * demand.firstOrderRate();
		double net = demand.supply() - scale * demand.zeroOrderRate();
		double steadyState = net / rate;
		double needed = (steadyState >= minimum) ? minimum
				: steadyState + (minimum - steadyState) * Math.exp(rate * problem.visitDays());
		double routine = Math.min(problem.ceiling(), Math.max(Math.max(problem.fcIdealLow(), minimum), needed));
		// Where more comes in than goes out it has risen before the visit already.
		return Math.max(routine, Math.min(demand.expected(routine, problem.visitDays()), problem.ceiling()));
	}

	/** FC that a cell or feeder is set to hold, ppm. */
	private static double held(SeasonProblem problem, double cya) {
		return Math.min(problem.ceiling(), Math.max(HELD_FC, HELD_ABOVE * problem.fcToHold(cya)));
	}

	/** Most that a cell brings, ppm FC a day: by a fifth more than the pool uses in the warmest week at the CYA aimed at; assumption. */
	static double cellCapacity(SeasonProblem problem, double warmest) {
		return 1.2 * problem.use() * (problem.kind().firstOrderRate(warmest, problem.stabilizerLimit()) * HELD_FC
				+ problem.kind().zeroOrderRate(warmest));
	}

}
