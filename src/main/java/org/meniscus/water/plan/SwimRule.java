package org.meniscus.water.plan;

import java.util.List;

import org.meniscus.water.explain.Reason;

/**
 * When the water is ready: all conditions, never one alone.
 *
 * @param conditions every condition, as data
 * @param earliestHours the longest wait of today's products, counted from the first step; never a promise by itself
 * @param onlyAfterTest something cannot be known without a new test or look (FC above the ceiling, pH outside, drain not seen)
 * @param fcMinimum lowest FC, ppm, to enter; zero in a pool not kept on chlorine
 * @param fcMaximum highest FC, ppm, to enter
 */
public record SwimRule(List<Reason> conditions, double earliestHours, boolean onlyAfterTest, double fcMinimum, double fcMaximum) {

	public SwimRule {
		conditions = List.copyOf(conditions);
	}

}
