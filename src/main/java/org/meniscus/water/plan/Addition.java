package org.meniscus.water.plan;

import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;

/**
 * One product that goes in, with the water before and after it.
 *
 * @param rank group of the product: a lower one is always taken first
 * @param choiceReason why this product
 * @param requiredAmount for the whole goal, grams or millilitres before caps and rounding
 * @param measuredAmount as it is measured out
 * @param added what {@code after} was worked out with, grams or millilitres: measured out, or unrounded while candidates are compared
 * @param startMinutes after the first addition
 */
record Addition(DosingGoal goal, Product product, int rank, Reason choiceReason, double requiredAmount, MeasuredAmount measuredAmount,
		double added, int startMinutes, PoolWater before, PoolWater after) {

	Step.Purpose purpose() {
		return this.goal.purpose();
	}

}
