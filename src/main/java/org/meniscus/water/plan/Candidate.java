package org.meniscus.water.plan;

import java.util.Comparator;

/**
 * One way to treat the water, worked out and scored.
 *
 * @param deferredChlorine chlorine doses left for another day
 * @param shortfall tenths of probability by which chlorine misses to hold until the next visit as asked; zero where no tablets are
 * decided on: every candidate that leaves no chlorine for later then holds alike
 * @param rank sum of the ranks of its products: what a company wants first and what the trade takes first
 * @param productIds in the order they go in; settles ties
 */
record Candidate(ProductAssignment assignment, DosingResult dosing, TotalCost cost, int deferredChlorine, int shortfall, int rank,
		String productIds) {

	/** Best first; cost in hundredths of a minor unit, so that rounding errors do not decide. */
	static final Comparator<Candidate> BEST_FIRST = Comparator.comparingInt(Candidate::deferredChlorine)
		.thenComparingInt(Candidate::shortfall)
		.thenComparingInt(Candidate::rank)
		.thenComparingDouble(candidate -> Math.rint(candidate.cost().bySeasonEnd() * 100))
		.thenComparing(Candidate::productIds);

}
