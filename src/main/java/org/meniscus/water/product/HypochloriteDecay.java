package org.meniscus.water.product;

import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.units.Temperature;

/**
 * Loss of strength of sodium hypochlorite kept in the dark: second order in hypochlorite, the faster the warmer and the stronger.
 * <p>
 * Rate by Adam and Gordon, Inorganic Chemistry 38 (1999) 1299: {@code log k = 0.149 μ + log(2.083e10 T exp(-101,800/RT) exp(-56.5/R))},
 * k in L/(mol s), ionic strength μ of 1 to 6 mol/L, 0.7 to 3 mol/L hypochlorite, 15 to 55 °C; outside carried on. The main path, to
 * chlorate and chloride, leaves μ as it was, so one rate holds for a batch. Bleach of commerce holds as much salt as hypochlorite and 0.25
 * to 0.35 % free sodium hydroxide (maker's handbook, powellfab.com). Without metals: a few ppm of copper or nickel, or sun through a
 * clear jug, take more than this. A temperature 5 °C higher takes twice as much.
 */
public final class HypochloriteDecay {

	private static final double GAS_CONSTANT = 8.314;

	private static final double SECONDS_PER_DAY = 86_400;

	/** Free sodium hydroxide, mol/L: 0.3 % of 1.16 kg/L. */
	private static final double FREE_HYDROXIDE = 0.09;

	private HypochloriteDecay() {
	}

	/**
	 * Fraction in (0, 1] of the strength that is left.
	 *
	 * @param gramsPerLitre available chlorine at the start, above zero
	 * @param days not below zero
	 * @param temperature mean over the time
	 * @throws IllegalArgumentException otherwise
	 */
	public static double remaining(double gramsPerLitre, double days, Temperature temperature) {
		if (!(gramsPerLitre > 0) || !(days >= 0)) {
			throw new IllegalArgumentException("not to be aged: " + gramsPerLitre + " g/L for " + days + " days");
		}
		double molar = gramsPerLitre / Stoichiometry.CHLORINE;
		return 1 / (1 + rateConstant(2 * molar + FREE_HYDROXIDE, temperature) * molar * days);
	}

	/** L/(mol d). @param ionicStrength mol/L */
	static double rateConstant(double ionicStrength, Temperature temperature) {
		double kelvin = temperature.kelvin();
		return SECONDS_PER_DAY * Math.pow(10, 0.149 * ionicStrength) * 2.083e10 * kelvin * Math.exp(-1.018e5 / (GAS_CONSTANT * kelvin))
				* Math.exp(-56.5 / GAS_CONSTANT);
	}

}
