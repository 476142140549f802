package org.meniscus.water.treatment;

import java.util.Objects;

/**
 * What a company decides, all with defaults.
 *
 * @param fcCeiling highest FC, ppm, a routine dose aims at; default 4, the entry range read on labels (1 to 4 ppm)
 * @param swimCeiling highest FC, ppm, at which people may swim; default 4, as above
 * @param shockCeiling highest FC, ppm, any dose aims at; default 20: above it colour tests cannot be read (trade facts, section 5)
 * @param cyaPerFc largest CYA to FC ratio, from which the minimum FC follows; default 20 (Falk et al. 2019, figure from memory)
 * @param fcTarget the aim of a routine chlorine dose
 */
public record Policy(double fcCeiling, double swimCeiling, double shockCeiling, double cyaPerFc, FcTarget fcTarget) {

	private static final Policy DEFAULTS = new Policy(4, 4, 20, 20, FcTarget.ALLOWANCE);

	/** @throws IllegalArgumentException unless ceilings and ratio are above zero and the shock ceiling is not below the routine one */
	public Policy {
		Objects.requireNonNull(fcTarget);
		if (!(fcCeiling > 0) || !(swimCeiling > 0) || !(shockCeiling >= fcCeiling) || !(cyaPerFc > 0)) {
			throw new IllegalArgumentException("ceilings and ratio must be above zero, the shock ceiling not below the routine one");
		}
	}

	public static Policy defaults() {
		return DEFAULTS;
	}

	/** One ceiling for dosing and for swimming, everything else by default. */
	public static Policy withCeiling(double fcCeiling) {
		return new Policy(fcCeiling, fcCeiling, Math.max(20, fcCeiling), 20, FcTarget.ALLOWANCE);
	}

}
