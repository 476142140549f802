package org.meniscus.water.drift;

import java.util.List;

/** Unknown constants of a pool that do not enter linearly, one value of each for every particle. Priors: {@link Priors}. */
final class PoolParameters {

	/** New plaster gives off a third of what is left in so many days. Assumption. */
	private static final double PLASTER_DAYS = 25;

	/** Mean depth, mm. */
	final double[] depth;

	/** Evaporation over that of open water. */
	final double[] evaporationFactor;

	/** Splash-out at the height of a season, mm a day. */
	final double[] splashOut;

	/** mm a day; 0 without a leak. */
	final double[] leak;

	/** Room above the operating level before water overflows, mm. */
	final double[] freeboard;

	/** Share of CYA broken down a day at 28 °C. */
	final double[] breakdown;

	/** Water that one backwash takes, mm. */
	final double[] backwash;

	/** Share that falls out a day of CH above {@link DailyBalance#SCALING_FROM}. */
	final double[] scaling;

	/** What new plaster gives off in all, ppm CH; 0 without new plaster. */
	final double[] plaster;

	/** Share of routine doses that nobody writes down. */
	final double[] unrecordedDoses;

	PoolParameters(int particleCount) {
		this.depth = new double[particleCount];
		this.evaporationFactor = new double[particleCount];
		this.splashOut = new double[particleCount];
		this.leak = new double[particleCount];
		this.freeboard = new double[particleCount];
		this.breakdown = new double[particleCount];
		this.backwash = new double[particleCount];
		this.scaling = new double[particleCount];
		this.plaster = new double[particleCount];
		this.unrecordedDoses = new double[particleCount];
	}

	List<double[]> all() {
		return List.of(depth, evaporationFactor, splashOut, leak, freeboard, breakdown, backwash, scaling, plaster, unrecordedDoses);
	}

	/** CH that new plaster gives off on a day, ppm. */
	double plasterRelease(int particle, int daysSinceStart) {
		double total = plaster[particle];
		return (total > 0) ? total / PLASTER_DAYS * Math.exp(-daysSinceStart / PLASTER_DAYS) : 0;
	}

}
