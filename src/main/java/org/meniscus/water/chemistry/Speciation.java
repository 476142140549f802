package org.meniscus.water.chemistry;

/**
 * What a water holds at its measured pH and total alkalinity.
 *
 * @param ionicStrength mol/kg
 * @param cyanurates chlorine and cyanurate species, mg/L Cl2
 * @param cyanurateAlkalinity mg/L CaCO3
 * @param borateAlkalinity mg/L CaCO3
 * @param carbonateAlkalinity mg/L CaCO3: TA less cyanurate, borate and hypochlorite; OH-, H+ and the calcium pairs stay in it. It
 * is negative where the readings contradict each other
 * @param totalInorganicCarbon mmol/kg; zero where the readings contradict each other
 * @param carbonDioxide dissolved CO2, mg/L
 * @param log10CarbonDioxidePressure of the CO2 pressure in atm that this water would be in equilibrium with; negative infinity
 * without carbon
 * @param calciteSaturationIndex log10 of ion product over solubility: above zero scale can form, below zero plaster can dissolve;
 * negative infinity without calcium or carbon
 * @param alkalinityWithoutCarbonate the least that TA can be at this pH with what else is in the water, mg/L CaCO3
 * @param contradictory whether stabilizer, borate and chlorine alone would hold more alkalinity at this pH than the TA reading
 */
public record Speciation(double ionicStrength, Cyanurates cyanurates, double cyanurateAlkalinity, double borateAlkalinity,
		double carbonateAlkalinity, double totalInorganicCarbon, double carbonDioxide, double log10CarbonDioxidePressure,
		double calciteSaturationIndex, double alkalinityWithoutCarbonate, boolean contradictory) {

	/** With the default constants, {@link CyanurateConstants#WAHMAN}. */
	public static Speciation of(Water water) {
		return of(water, CyanurateConstants.WAHMAN);
	}

	public static Speciation of(Water water, CyanurateConstants constants) {
		Equilibrium at = Equilibrium.of(water, constants);
		double left = at.carbonFromAlkalinity(water.ph(), water.totalAlkalinity() / (1000 * Stoichiometry.CACO3_EQUIVALENT));
		double milligrams = 1000 * Stoichiometry.CACO3_EQUIVALENT;
		double cyanurate = milligrams * at.cyanurateAlkalinity;
		double borate = milligrams * at.boronAnion;
		double carbonate = water.totalAlkalinity() - cyanurate - borate - milligrams * at.ocl;
		return new Speciation(water.ionicStrength(), Cyanurates.of(at), cyanurate, borate, carbonate, 1000 * at.totalCarbon,
				1000 * Stoichiometry.CARBON_DIOXIDE * at.carbonDioxide, at.logCarbonDioxidePressure(), at.saturationIndex(),
				water.totalAlkalinity() - left * milligrams, left < 0);
	}

	/** Hypochlorous acid, mg/L Cl2. */
	public double hocl() {
		return this.cyanurates.hocl();
	}

	/** Hypochlorite, mg/L Cl2. */
	public double ocl() {
		return this.cyanurates.ocl();
	}

	/** Monochlorinated cyanurate HClCy-, mg/L Cl2. */
	public double hClCy() {
		return this.cyanurates.hClCy();
	}

	/** Dichlorinated cyanurate Cl2Cy-, mg/L Cl2. */
	public double cl2Cy() {
		return this.cyanurates.cl2Cy();
	}

	/** Whether there is calcium and carbonate enough for the saturation index to be a number. */
	public boolean hasSaturationIndex() {
		return !Double.isInfinite(this.calciteSaturationIndex);
	}

}
