package org.meniscus.water.assess;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Range;

/**
 * What water and work cost a company, in minor units of its currency. Defaults: common practice, no source; water from memory
 * (about 6 dollars for 1,000 US gal with sewer charges), wage about what a 2021 survey of the trade reports (17.50 dollars an hour).
 *
 * @param waterPerM3 a cubic metre of fill water, sewer charges included
 * @param drainLabor work of one partial drain and refill, travel included
 * @param laborHour an hour of a technician
 * @param dayBelowMinimum a warm day on which FC is below its minimum, to a company that asks doses to hold nine times in ten: a green pool
 * takes about 100 dollars of work and products, and about one such day in 30 begins one; assumption
 * @param waterScarce whether water is replaced only where a level is out of its acceptable range, and then no more of it than that takes
 */
public record TreatmentCosts(double waterPerM3, double drainLabor, double laborHour, double dayBelowMinimum, boolean waterScarce) {

	public static final TreatmentCosts DEFAULT = new TreatmentCosts(160, 9000, 2500);

	/** Water and work as given, a day below the minimum as usual. */
	public TreatmentCosts(double waterPerM3, double drainLabor, double laborHour) {
		this(waterPerM3, drainLabor, laborHour, 300, false);
	}

	/** Up to where a product may build a level up, in its unit: where water is scarce not beyond the ideal range. */
	public double limit(@Nullable Range range, double usual) {
		return (range == null || !this.waterScarce) ? usual : Math.min(usual, range.idealHigh());
	}

	public TreatmentCosts withWaterScarce(boolean scarce) {
		return new TreatmentCosts(this.waterPerM3, this.drainLabor, this.laborHour, this.dayBelowMinimum, scarce);
	}

	/** @throws IllegalArgumentException for a cost below zero */
	public TreatmentCosts {
		if (!(waterPerM3 >= 0) || !(drainLabor >= 0) || !(laborHour >= 0) || !(dayBelowMinimum >= 0)) {
			throw new IllegalArgumentException("costs below zero");
		}
	}

}
