package org.meniscus.water.chemistry;

import org.meniscus.water.units.Temperature;

/**
 * The trade's saturation index by factors: pH + TF + CF + AF - constant, as in the Montana Administrative Rules, title 37, chapter
 * 115, table 7, and several operator manuals. Kept to compare with; the engine judges by the calcite index of {@link Speciation}.
 * Published in steps of 0.1, so good to about 0.05 at best.
 */
public final class LangelierIndex {

	private static final double[] FAHRENHEIT = { 32, 37, 46, 53, 60, 66, 76, 84, 94, 105, 128 };

	private static final double[] TEMPERATURE_FACTOR = { 0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0 };

	private LangelierIndex() {
	}

	/**
	 * With the logarithms that the tabled calcium and alkalinity factors are rounded from.
	 *
	 * @param hardness CH in mg/L CaCO3, above zero
	 * @param carbonateAlkalinity TA less what stabilizer and borate hold, mg/L CaCO3, above zero
	 * @param dissolvedSolids TDS in mg/L: the constant is 12.1 below 1000, else 12.2
	 */
	public static double of(double ph, Temperature temperature, double hardness, double carbonateAlkalinity, double dissolvedSolids) {
		return ph + temperatureFactor(temperature) + calciumFactor(hardness) + alkalinityFactor(carbonateAlkalinity)
				- ((dissolvedSolids < 1000) ? 12.1 : 12.2);
	}

	/** Linear between the tabled temperatures, held at both ends. */
	public static double temperatureFactor(Temperature temperature) {
		double f = temperature.fahrenheit();
		if (f <= FAHRENHEIT[0]) {
			return TEMPERATURE_FACTOR[0];
		}
		for (int i = 1; i < FAHRENHEIT.length; i++) {
			if (f <= FAHRENHEIT[i]) {
				double share = (f - FAHRENHEIT[i - 1]) / (FAHRENHEIT[i] - FAHRENHEIT[i - 1]);
				return TEMPERATURE_FACTOR[i - 1] + share * (TEMPERATURE_FACTOR[i] - TEMPERATURE_FACTOR[i - 1]);
			}
		}
		return TEMPERATURE_FACTOR[TEMPERATURE_FACTOR.length - 1];
	}

	public static double calciumFactor(double hardness) {
		return Math.log10(hardness) - 0.4;
	}

	public static double alkalinityFactor(double carbonateAlkalinity) {
		return Math.log10(carbonateAlkalinity);
	}

	/** Share of each mg/L CYA that counts in TA: 0.3877/(1+10^(6.88 - pH)); reproduces the published table within 0.012. */
	public static double stabilizerFactor(double ph) {
		return Stoichiometry.CACO3_EQUIVALENT / Stoichiometry.CYANURIC_ACID / (1 + Math.pow(10, 6.88 - ph));
	}

}
