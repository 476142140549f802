package org.meniscus.water.treatment;

/** Aim of a routine chlorine dose; small and replaceable, so that what a pool really consumes can take its place. */
@FunctionalInterface
public interface FcTarget {

	/**
	 * The minimum plus what is lost until the next visit, at least the lower end of the ideal range, at most the ceiling.
	 */
	FcTarget ALLOWANCE = (pool, minimum, ideal, ceiling, days) -> Math.min(ceiling,
			Math.max(ideal.idealLow(), minimum + dailyLoss(pool) * days));

	/**
	 * @param minimum lowest FC allowed, ppm
	 * @param ideal range of FC
	 * @param ceiling highest FC allowed, ppm
	 * @param daysToNextVisit zero when not known
	 * @return FC to aim at, ppm
	 */
	double ppm(PoolFacts pool, double minimum, Range ideal, double ceiling, int daysToNextVisit);

	/**
	 * FC lost a day beyond what a feeder or cell gives, ppm: 1 outdoors by hand, 0.5 indoors or in a spa, 0 with a cell or
	 * feeder (they carry the day). Common practice, no source.
	 */
	static double dailyLoss(PoolFacts pool) {
		if (pool.sanitizer() != Sanitizer.CHLORINE_BY_HAND) {
			return 0;
		}
		return (pool.indoor() || pool.body() == Body.SPA) ? 0.5 : 1;
	}

}
