package org.meniscus.water.season;

/**
 * What of a pool's water lasts from week to week and is priced by the season.
 *
 * @param cya ppm, zero or more
 * @param ch ppm as CaCO3, zero or more
 */
public record State(double cya, double ch) {

	/** @throws IllegalArgumentException for a level below zero or not finite */
	public State {
		if (!(cya >= 0) || !(ch >= 0) || Double.isInfinite(cya) || Double.isInfinite(ch)) {
			throw new IllegalArgumentException("not levels of a water: " + cya + ", " + ch);
		}
	}

	/** With this share of the water replaced by fill water without CYA. @param share 0 to 1 @param fillCh CH of the fill water, ppm */
	public State replaced(double share, double fillCh) {
		return new State(this.cya * (1 - share), this.ch + share * (fillCh - this.ch));
	}

}
