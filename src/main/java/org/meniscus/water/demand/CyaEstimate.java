package org.meniscus.water.demand;

import org.meniscus.water.pool.TestPrecision;

/**
 * CYA estimated from all tests of a pool by a Kalman filter (Kalman 1960). One test is off by a fifth or so, and how fast sun takes chlorine
 * goes with nearly the square of it: by the newest test alone a pool that read too high gets too little chlorine until it is read again.
 *
 * @param ppm most probable, zero or more
 * @param variance of it, ppm²
 */
public record CyaEstimate(double ppm, double variance) {

	/** Standard deviation a week by what nobody records: splash, rain, backwash; ppm, assumption. */
	private static final double PROCESS_NOISE = 1;

	/** A test further off than so many standard deviations is believed alone: water was replaced or something added that is not on record. */
	private static final double OUTLIER_GATE = 3;

	/** By one test alone, ppm. */
	public static CyaEstimate of(double tested) {
		return new CyaEstimate(tested, TestPrecision.TURBIDITY_TUBE.variance(tested));
	}

	/** Moved to another level by what was put in or replaced. */
	public CyaEstimate withPpm(double to) {
		return new CyaEstimate(to, this.variance);
	}

	/** After so many days in which nothing was recorded. */
	public CyaEstimate predict(long days, double celsius) {
		return new CyaEstimate(this.ppm * Math.exp(-CyanuricAcidLoss.total(celsius) * days),
				this.variance + PROCESS_NOISE * PROCESS_NOISE * days / 7);
	}

	/** With one more test, ppm. */
	public CyaEstimate update(double tested) {
		CyaEstimate alone = of(tested);
		double innovation = tested - this.ppm;
		double innovationVariance = this.variance + alone.variance;
		if (Math.abs(innovation) > OUTLIER_GATE * Math.sqrt(innovationVariance)) {
			return alone;
		}
		double gain = this.variance / innovationVariance;
		return new CyaEstimate(this.ppm + gain * innovation, (1 - gain) * this.variance);
	}

}
