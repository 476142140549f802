package org.meniscus.water.chemistry;

/**
 * Loss of free chlorine to sunlight at the surface: rate constants of a clear summer noon at 47° north, Nowell and Hoigné 1992. A
 * surface figure, not that of a whole pool.
 */
public final class Photolysis {

	private static final double HYPOCHLOROUS_ACID_PER_SECOND = 2e-4;

	private static final double HYPOCHLORITE_PER_SECOND = 1.2e-3;

	private Photolysis() {
	}

	/** Half-life in minutes of chlorine without stabilizer in pure water. @param ph 0 to 14 @param constants at its temperature */
	public static double surfaceHalfLifeMinutes(double ph, EquilibriumConstants constants) {
		double acid = 1 / (1 + Math.pow(10, ph - constants.pKHypochlorousAcid()));
		double rate = HYPOCHLOROUS_ACID_PER_SECOND * acid + HYPOCHLORITE_PER_SECOND * (1 - acid);
		return Math.log(2) / rate / 60;
	}

}
