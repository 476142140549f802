package org.meniscus.water.season;

/** A way to tell a level and its drift from readings and records. Same question, same answer. */
public interface SeasonEstimator {

	SeasonEstimate estimate(SeasonQuestion question);

}
