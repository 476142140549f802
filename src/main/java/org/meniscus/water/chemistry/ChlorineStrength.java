package org.meniscus.water.chemistry;

/**
 * What the percentage on liquid chlorine means: trade % is grams of available chlorine in 100 mL, weight % is sodium hypochlorite by
 * weight. "12.5 %" is 125 g/L read one way and 141.5 g/L the other, so nobody may guess.
 */
public final class ChlorineStrength {

	/** Density rises by this, g/mL per g/L of available chlorine: one published point, 1.160 at 120 g/L; good to 1 %. */
	private static final double DENSITY_SLOPE = 0.16 / 120;

	private ChlorineStrength() {
	}

	/** Grams of available chlorine per litre. @param percent trade % */
	public static double gramsPerLitreOfTradePercent(double percent) {
		return 10 * percent;
	}

	/** Grams of available chlorine per litre. @param percent weight % NaOCl */
	public static double gramsPerLitreOfWeightPercent(double percent) {
		double available = 10 * percent * Stoichiometry.CHLORINE / Stoichiometry.SODIUM_HYPOCHLORITE;
		return available / (1 - available * DENSITY_SLOPE);
	}

}
