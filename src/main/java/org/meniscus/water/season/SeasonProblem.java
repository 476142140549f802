package org.meniscus.water.season;

import org.meniscus.water.assess.Assessor;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.PoolKind;

/**
 * All that the value of a pool's CYA and CH depends on, in rounded figures: pools alike share one solution, and the same facts give the
 * same solution whoever asked first.
 *
 * @param kind of pool, its volume rounded
 * @param use chlorine used against the median of its kind
 * @param visitDays days between visits
 * @param ceiling highest FC of a routine dose, ppm
 * @param cyaPerFc largest CYA to FC ratio
 * @param fcLow lowest FC whatever the CYA, ppm
 * @param fcIdealLow FC that a dose reaches at least, ppm
 * @param holdQuantile standard normal quantile of the chance with which a dose is to last until the next visit
 * @param tabletStep FC that one tablet, or one step of the feeder, brings in all, ppm
 * @param cyaLimit no tablets from here on, ppm
 * @param cyaReplaced from above here plans ask for new water, ppm
 * @param stabilizerLimit stabilizer is bought up to here at most, ppm
 * @param hardness range of CH, ppm
 * @param fillTa,fillCh of the fill water, ppm
 * @param cyaSource,chSource what comes in beside all this, ppm a week, below zero where more is lost
 */
record SeasonProblem(ClimateNormals climate, PoolKind kind, Supply supply, double use, double visitDays, double ceiling, double cyaPerFc,
		double fcLow, double fcIdealLow, double holdQuantile, double tabletStep, double cyaLimit, double cyaReplaced,
		double stabilizerLimit,
		HardnessRange hardness, double fillTa, double fillCh, double cyaSource, double chSource, SeasonPrices prices) {

	/**
	 * CH, ppm: ends of its ranges.
	 *
	 * @param limit from here on plans ask for new water
	 */
	record HardnessRange(double acceptableLow, double idealLow, double idealHigh, double acceptableHigh, double limit) {
	}

	SeasonProblem withUse(double newUse) {
		return new SeasonProblem(this.climate, this.kind, this.supply, newUse, this.visitDays, this.ceiling, this.cyaPerFc, this.fcLow,
				this.fcIdealLow, this.holdQuantile, this.tabletStep, this.cyaLimit, this.cyaReplaced, this.stabilizerLimit, this.hardness,
				this.fillTa,
				this.fillCh, this.cyaSource, this.chSource, this.prices);
	}

	SeasonProblem withSources(double newCyaSource, double newChSource) {
		return new SeasonProblem(this.climate, this.kind, this.supply, this.use, this.visitDays, this.ceiling, this.cyaPerFc, this.fcLow,
				this.fcIdealLow, this.holdQuantile, this.tabletStep, this.cyaLimit, this.cyaReplaced, this.stabilizerLimit, this.hardness,
				this.fillTa,
				this.fillCh, newCyaSource, newChSource, this.prices);
	}

	/** FC that doses are to hold at this CYA, ppm: as in plans. */
	double fcToHold(double cya) {
		return Assessor.fcToHold(this.fcLow, cya, this.cyaPerFc, this.ceiling);
	}

}
