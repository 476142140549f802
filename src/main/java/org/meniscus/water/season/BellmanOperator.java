package org.meniscus.water.season;

/**
 * A decision process over a year of periods that repeats: in each period every state is given the least expected cost from there on
 * (Bellman, Dynamic Programming, 1957).
 */
public interface BellmanOperator {

	/** Periods of a year, one or more. */
	int periods();

	/** States, the same in every period, one or more. */
	int states();

	/**
	 * Backs values up by one period.
	 *
	 * @param period zero or more, below {@link #periods()}
	 * @param next value of each state at the start of the next period
	 * @param values receives the least of cost in this period and value in the next, over all actions, by state
	 */
	void backUp(int period, double[] next, double[] values);

}
