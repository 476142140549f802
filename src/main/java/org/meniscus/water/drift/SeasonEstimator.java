package org.meniscus.water.drift;

/** A way to tell a level and its drift from readings and records. Same question, same answer. */
public interface SeasonEstimator {

	SeasonEstimate estimate(SeasonQuestion question);

}
