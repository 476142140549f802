package org.meniscus.water.demand;

/**
 * FC records from one visit to the next.
 *
 * @param days above 0
 * @param startFc FC just after dosing by the test and the recorded doses, ppm
 * @param startDeviation standard deviation of it, ppm
 * @param endFc FC at the next visit before dosing, ppm; zero = used up some time before
 * @param tablets FC that dissolving tablets, or a cell of known output, brought in between, ppm
 * @param celsius of the water
 * @param cya by all tests until then, ppm
 * @param unusual algae, a party, a storm or the like at either end: it says little of usual weeks
 */
public record DemandInterval(double days, double startFc, double startDeviation, double endFc, double tablets, double celsius, double cya,
		boolean unusual) {

	/** @throws IllegalArgumentException for a figure below zero or not finite, or no time in between */
	public DemandInterval {
		for (double figure : new double[]{ days, startFc, startDeviation, endFc, tablets, cya }) {
			if (!(figure >= 0) || Double.isInfinite(figure)) {
				throw new IllegalArgumentException("below zero or not finite: " + figure);
			}
		}
		if (!(days > 0) || !(Math.abs(celsius) <= 100)) {
			throw new IllegalArgumentException("no interval: " + days + " days, " + celsius + " °C");
		}
	}

}
