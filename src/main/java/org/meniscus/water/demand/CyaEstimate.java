package org.meniscus.water.demand;

import org.meniscus.water.pool.TestPrecision;

/**
 * CYA as all tests of a pool together tell it, filtered (Kalman 1960). One test is off by a fifth or so, and how fast sun takes chlorine
 * goes with nearly the square of it: by the newest test alone a pool that read too high gets too little chlorine until it is read again.
 *
 * @param ppm most probable, zero or more
 * @param variance of it, ppm²
 */
public record CyaEstimate(double ppm, double variance) {

	/** S.d. a week by what nobody records: splash, rain, backwash; ppm, assumption. */
	private static final double UNSEEN = 1;

	/** A test further off than so many s.d. is believed alone: water was replaced or something added that is not on record. */
	private static final double FAR = 3;

	/** By one test alone, ppm. */
	public static CyaEstimate of(double tested) {
		return new CyaEstimate(tested, TestPrecision.TURBIDITY_TUBE.variance(tested));
	}

	/** Moved to another level by what was put in or replaced. */
	public CyaEstimate moved(double to) {
		return new CyaEstimate(to, this.variance);
	}

	public CyaEstimate after(long days, double celsius) {
		return new CyaEstimate(this.ppm * Math.exp(-CyanuricAcidLoss.total(celsius) * days), this.variance + UNSEEN * UNSEEN * days / 7);
	}

	public CyaEstimate tested(double tested) {
		CyaEstimate alone = of(tested);
		double off = tested - this.ppm;
		double sum = this.variance + alone.variance;
		if (Math.abs(off) > FAR * Math.sqrt(sum)) {
			return alone;
		}
		double gain = this.variance / sum;
		return new CyaEstimate(this.ppm + gain * off, (1 - gain) * this.variance);
	}

}
