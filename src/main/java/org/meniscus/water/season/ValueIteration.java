package org.meniscus.water.season;

import java.util.Arrays;

/**
 * Relative value iteration over a year that repeats (White 1963; Puterman, Markov Decision Processes, 1994, section 8.5): the year is
 * solved backward again and again until one more year adds the same to every state. Costs are not discounted; values count from that of
 * the first state at the start of the year, so only their differences mean something.
 *
 * @param values by period and state, at the start of the period
 * @param costPerYear what a year costs under the best policy
 * @param span by how much the last year still added more to one state than to another
 * @param years solved
 */
public record ValueIteration(double[][] values, double costPerYear, double span, int years) {

	/** More years bring a chemical price no closer; the last span then tells how close it is. */
	private static final int MAX_YEARS = 60;

	/** @param tolerance span of the change over a year at which it has converged, in units of cost, above zero */
	public static ValueIteration solve(BellmanOperator operator, double tolerance) {
		int periods = operator.periods();
		int states = operator.states();
		double[][] values = new double[periods][states];
		double[] nextYear = new double[states];
		double least = 0;
		double span = Double.POSITIVE_INFINITY;
		int years = 0;
		while (years < MAX_YEARS && span > tolerance) {
			for (int period = periods - 1; period >= 0; period--) {
				operator.backUp(period, (period == periods - 1) ? nextYear : values[period + 1], values[period]);
			}
			least = Double.POSITIVE_INFINITY;
			double most = Double.NEGATIVE_INFINITY;
			for (int state = 0; state < states; state++) {
				double change = values[0][state] - nextYear[state];
				least = Math.min(least, change);
				most = Math.max(most, change);
			}
			span = most - least;
			years++;
			double origin = values[0][0];
			for (double[] period : values) {
				for (int state = 0; state < states; state++) {
					period[state] -= origin;
				}
			}
			nextYear = Arrays.copyOf(values[0], states);
			least += 0.5 * span;
		}
		return new ValueIteration(values, least, span, years);
	}

}
