package org.meniscus.water.season;

import java.util.List;

import org.meniscus.water.pool.Level;

/**
 * What a plan costs today and what its doses cost or save in the time ahead, in minor units of the company's currency.
 *
 * @param productCost price of the products put in today
 * @param laterCost price of what is left for another day
 * @param waitingCost work time beyond what a visit takes anyway, spent on gaps between products
 * @param shortageCost price of the warm days until the next visit on which FC is expected below its minimum: it decides between
 * plans, but nobody is billed for it
 * @param levelCosts what stays in the water, level by level
 * @param allPriced every product had a price; otherwise the usual price of its kind stands in
 */
public record TotalCost(double productCost, double laterCost, double waitingCost, double shortageCost, List<LevelCost> levelCosts,
		boolean allPriced) {

	/**
	 * Worth of what stays of one level.
	 *
	 * @param change by how much the plan moves the level for good, in the level's unit
	 * @param cost what that brings forward; below zero when it saves something that would have to be bought
	 */
	public record LevelCost(Level level, double change, double cost) {
	}

	public TotalCost {
		levelCosts = List.copyOf(levelCosts);
	}

	/** What it comes to with what stays in the water. */
	public double withLastingEffects() {
		double sum = this.productCost + this.laterCost + this.waitingCost;
		for (LevelCost one : this.levelCosts) {
			sum += one.cost();
		}
		return sum;
	}

	/** What plans are compared by. */
	public double objective() {
		return withLastingEffects() + this.shortageCost;
	}

}
