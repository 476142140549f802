package org.meniscus.water.chemistry;

/**
 * Chlorine shared between water and cyanuric acid. Chlorine species in mg/L Cl2; the last five exist only under
 * {@link CyanurateConstants#OBRIEN} and are zero otherwise.
 *
 * @param hocl hypochlorous acid, the part that disinfects
 * @param ocl hypochlorite
 * @param hClCy monochlorinated, one charge
 * @param cl2Cy dichlorinated, one charge
 * @param clCy monochlorinated, two charges
 * @param h2ClCy monochlorinated, neutral
 * @param hCl2Cy dichlorinated, neutral
 * @param cl3Cy trichlorinated
 * @param alkalinity of all cyanurates, mg/L CaCO3
 */
public record Cyanurates(double hocl, double ocl, double hClCy, double cl2Cy, double clCy, double h2ClCy, double hCl2Cy, double cl3Cy,
		double alkalinity) {

	/**
	 * Shares out the chlorine at a given pH.
	 *
	 * @param ph -log10 of the hydrogen ion activity, 0 to 14
	 * @param cyanuricAcid total CYA in mg/L
	 * @param freeChlorine FC in mg/L Cl2
	 * @param constants at the temperature of the water
	 * @param ionicStrength mol/kg; zero gives the ideal solution
	 */
	public static Cyanurates of(double ph, double cyanuricAcid, double freeChlorine, EquilibriumConstants constants,
			double ionicStrength) {
		if (!(ph >= 0 && ph <= 14 && cyanuricAcid >= 0 && freeChlorine >= 0 && ionicStrength >= 0)
				|| cyanuricAcid + freeChlorine > Water.MAX_LEVEL || Double.isInfinite(ionicStrength)) {
			throw new IllegalArgumentException("no water: pH " + ph + ", CYA " + cyanuricAcid + " mg/L, FC " + freeChlorine
					+ " mg/L, ionic strength " + ionicStrength);
		}
		Equilibrium equilibrium = new Equilibrium(constants, ionicStrength);
		equilibrium.totalCyanurate = cyanuricAcid / (1000 * Stoichiometry.CYANURIC_ACID);
		equilibrium.totalChlorine = freeChlorine / (1000 * Stoichiometry.CHLORINE);
		equilibrium.otherAlkalinity(ph);
		return of(equilibrium);
	}

	/**
	 * Ionic strength in mol/kg of a solution of sodium chloride, cyanurate and chlorine alone, sodium making up the charge.
	 *
	 * @param salt sodium chloride in mg/L; the others as in {@link #of}
	 */
	public static double ionicStrength(double ph, double cyanuricAcid, double freeChlorine, EquilibriumConstants constants, double salt) {
		double chloride = salt / (1000 * Stoichiometry.SODIUM_CHLORIDE);
		double strength = chloride;
		for (int round = 0; round < 20; round++) {
			Equilibrium equilibrium = new Equilibrium(constants, strength);
			equilibrium.totalCyanurate = cyanuricAcid / (1000 * Stoichiometry.CYANURIC_ACID);
			equilibrium.totalChlorine = freeChlorine / (1000 * Stoichiometry.CHLORINE);
			double alkalinity = equilibrium.otherAlkalinity(ph);
			strength = chloride + Math.max(alkalinity, 0);
		}
		return strength;
	}

	static Cyanurates of(Equilibrium at) {
		double one = 1000 * Stoichiometry.CHLORINE;
		return new Cyanurates(one * at.hocl, one * at.ocl, one * at.hClCy, 2 * one * at.cl2Cy, one * at.clCy, one * at.h2ClCy,
				2 * one * at.hCl2Cy, 3 * one * at.cl3Cy, 1000 * Stoichiometry.CACO3_EQUIVALENT * at.cyanurateAlkalinity);
	}

}
