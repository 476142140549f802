package org.meniscus.water.assess;

/**
 * What water and work cost a company, in minor units of its currency. Defaults: common practice, no source; water from memory
 * (about 6 dollars for 1,000 US gal with sewer charges), wage about what a 2021 survey of the trade reports (17.50 dollars an hour).
 *
 * @param waterPerM3 a cubic metre of fill water, sewer charges included
 * @param drainLabor work of one partial drain and refill, travel included
 * @param laborHour an hour of a technician
 */
public record TreatmentCosts(double waterPerM3, double drainLabor, double laborHour) {

	public static final TreatmentCosts DEFAULT = new TreatmentCosts(160, 9000, 2500);

	/** @throws IllegalArgumentException for a cost below zero */
	public TreatmentCosts {
		if (!(waterPerM3 >= 0) || !(drainLabor >= 0) || !(laborHour >= 0)) {
			throw new IllegalArgumentException("costs below zero");
		}
	}

}
