package org.meniscus.water.demand;

import org.meniscus.water.chemistry.Water;

/**
 * pH records from one visit to the next.
 *
 * @param start just after dosing: by the test, the recorded doses and the equilibrium
 * @param fcFall by how much FC fell until the next visit, ppm; negative when it rose
 * @param tablets FC that dissolving tablets brought in between, ppm
 * @param days above 0
 * @param endPh pH at the next visit before dosing
 */
public record PhInterval(Water start, double fcFall, double tablets, double days, double endPh) {

	/** @throws IllegalArgumentException for no time in between or a pH off the scale */
	public PhInterval {
		if (!(days > 0) || !(endPh > 0 && endPh < 14) || !(tablets >= 0) || Double.isNaN(fcFall)) {
			throw new IllegalArgumentException("no interval: " + days + " days, pH " + endPh);
		}
	}

}
