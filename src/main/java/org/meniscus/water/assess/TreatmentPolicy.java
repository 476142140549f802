package org.meniscus.water.assess;

import java.util.Objects;

/**
 * What a company decides, all with defaults.
 *
 * @param fcCeiling highest FC, ppm, a routine dose aims at when people may come at any time; default 4, the entry range read on
 * labels (1 to 4 ppm)
 * @param swimCeiling highest FC, ppm, at which people may swim; default 4, as above
 * @param shockCeiling highest FC, ppm, any dose aims at; default 20: above it colour tests cannot be read (Taylor
 * Technologies, note on DPD bleaching)
 * @param cyaPerFc largest CYA to FC ratio, from which the minimum FC follows; default 20 (Falk et al. 2019, figure from memory)
 * @param minimumRule how the minimum FC follows from CYA
 * @param holdProbability chance with which FC shall still be above its minimum at the next visit; default 0.9
 * @param costs of water and work
 */
public record TreatmentPolicy(double fcCeiling, double swimCeiling, double shockCeiling, double cyaPerFc, MinimumRule minimumRule,
		double holdProbability, TreatmentCosts costs) {

	/** Of a dose that holds nine times in ten. */
	private static final double USUAL_ODDS = 9;

	private static final TreatmentPolicy DEFAULTS = withCeiling(4);

	/**
	 * @throws IllegalArgumentException unless ceilings and ratio are above zero, the shock ceiling is not below the routine one and the
	 * chance lies from 0.5 to 0.99
	 */
	public TreatmentPolicy {
		Objects.requireNonNull(minimumRule);
		Objects.requireNonNull(costs);
		if (!(fcCeiling > 0) || !(swimCeiling > 0) || !(shockCeiling >= fcCeiling) || !(cyaPerFc > 0)) {
			throw new IllegalArgumentException("ceilings and ratio must be above zero, the shock ceiling not below the routine one");
		}
		if (!(holdProbability >= 0.5) || !(holdProbability <= 0.99)) {
			throw new IllegalArgumentException("chance out of 0.5 to 0.99: " + holdProbability);
		}
	}

	public static TreatmentPolicy defaults() {
		return DEFAULTS;
	}

	/** One ceiling for dosing and for swimming, everything else by default. */
	public static TreatmentPolicy withCeiling(double fcCeiling) {
		return new TreatmentPolicy(fcCeiling, fcCeiling, Math.max(20, fcCeiling), 20, MinimumRule.CYA_RATIO, 0.9, TreatmentCosts.DEFAULT);
	}

	/**
	 * What a warm day below the minimum FC counts, minor units: who asks doses to hold with a higher chance values it more, in proportion to the
	 * odds, as in the newsvendor problem (Arrow, Harris and Marschak 1951), where a chance asked is that ratio of costs.
	 */
	public double dayBelowMinimum() {
		return this.costs.dayBelowMinimum() * this.holdProbability / (1 - this.holdProbability) / USUAL_ODDS;
	}

	public TreatmentPolicy withMinimumRule(MinimumRule minimumRule) {
		return new TreatmentPolicy(this.fcCeiling, this.swimCeiling, this.shockCeiling, this.cyaPerFc, minimumRule, this.holdProbability,
				this.costs);
	}

	public TreatmentPolicy withHoldProbability(double newHoldProbability) {
		return new TreatmentPolicy(this.fcCeiling, this.swimCeiling, this.shockCeiling, this.cyaPerFc, this.minimumRule, newHoldProbability,
				this.costs);
	}

	public TreatmentPolicy withCosts(TreatmentCosts costs) {
		return new TreatmentPolicy(this.fcCeiling, this.swimCeiling, this.shockCeiling, this.cyaPerFc, this.minimumRule,
				this.holdProbability,
				costs);
	}

}
