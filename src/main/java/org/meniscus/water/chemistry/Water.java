package org.meniscus.water.chemistry;

import org.meniscus.water.units.Temperature;

/**
 * One water, as a pool tester states it. Levels are mg/L, taken as mg per kg of water. Every level is finite and from zero to
 * {@value #MAX_LEVEL}, but for total alkalinity, which an overdose of acid can drive below zero.
 *
 * @param ph -log10 of the hydrogen ion activity, 0 to 14
 * @param totalAlkalinity TA in mg/L CaCO3, from -{@value #MAX_LEVEL} to {@value #MAX_LEVEL}; includes what stabilizer, borate and
 * chlorine hold
 * @param calciumHardness CH in mg/L CaCO3
 * @param cyanuricAcid CYA in mg/L, chlorinated or not
 * @param freeChlorine FC in mg/L Cl2: HOCl, OCl- and what is bound to CYA, as a DPD test reads it
 * @param salt all chloride, expressed as mg/L NaCl
 * @param borate mg/L as boron
 * @param sulfate mg/L as SO4; zero where unknown
 * @param temperature of the water, 0 to 60 °C
 */
public record Water(double ph, double totalAlkalinity, double calciumHardness, double cyanuricAcid, double freeChlorine, double salt,
		double borate, double sulfate, Temperature temperature) {

	/** No level above this is pool water, in mg/L. */
	public static final double MAX_LEVEL = 100_000;

	private static final double MAX_PH = 14;

	private static final double MAX_CELSIUS = 60;

	public Water {
		within("pH", ph, 0, MAX_PH);
		within("total alkalinity", totalAlkalinity, -MAX_LEVEL, MAX_LEVEL);
		within("calcium hardness", calciumHardness, 0, MAX_LEVEL);
		within("cyanuric acid", cyanuricAcid, 0, MAX_LEVEL);
		within("free chlorine", freeChlorine, 0, MAX_LEVEL);
		within("salt", salt, 0, MAX_LEVEL);
		within("borate", borate, 0, MAX_LEVEL);
		within("sulfate", sulfate, 0, MAX_LEVEL);
		within("temperature in °C", temperature.celsius(), 0, MAX_CELSIUS);
	}

	/** A water of unknown (zero) sulfate; units as in the record. */
	public static Water of(double ph, double totalAlkalinity, double calciumHardness, double cyanuricAcid, double freeChlorine,
			double salt, double borate, Temperature temperature) {
		return new Water(ph, totalAlkalinity, calciumHardness, cyanuricAcid, freeChlorine, salt, borate, 0, temperature);
	}

	private static void within(String level, double value, double least, double most) {
		if (!(value >= least && value <= most)) {
			throw new IllegalArgumentException(level + " must be from " + least + " to " + most + ", not " + value);
		}
	}

	public Water withPh(double value) {
		return new Water(value, this.totalAlkalinity, this.calciumHardness, this.cyanuricAcid, this.freeChlorine, this.salt, this.borate,
				this.sulfate, this.temperature);
	}

	public Water withTotalAlkalinity(double value) {
		return new Water(this.ph, value, this.calciumHardness, this.cyanuricAcid, this.freeChlorine, this.salt, this.borate, this.sulfate,
				this.temperature);
	}

	public Water withCalciumHardness(double value) {
		return new Water(this.ph, this.totalAlkalinity, value, this.cyanuricAcid, this.freeChlorine, this.salt, this.borate, this.sulfate,
				this.temperature);
	}

	public Water withCyanuricAcid(double value) {
		return new Water(this.ph, this.totalAlkalinity, this.calciumHardness, value, this.freeChlorine, this.salt, this.borate,
				this.sulfate, this.temperature);
	}

	public Water withFreeChlorine(double value) {
		return new Water(this.ph, this.totalAlkalinity, this.calciumHardness, this.cyanuricAcid, value, this.salt, this.borate,
				this.sulfate, this.temperature);
	}

	public Water withSulfate(double value) {
		return new Water(this.ph, this.totalAlkalinity, this.calciumHardness, this.cyanuricAcid, this.freeChlorine, this.salt,
				this.borate, value, this.temperature);
	}

	/**
	 * The same readings stated for another temperature: a measured pH is kept as it is. Warming a body of water is another thing,
	 * see {@link Dosing#atTemperature(Water, Temperature)}.
	 */
	public Water withTemperature(Temperature value) {
		return new Water(this.ph, this.totalAlkalinity, this.calciumHardness, this.cyanuricAcid, this.freeChlorine, this.salt,
				this.borate, this.sulfate, value);
	}

	/**
	 * Ionic strength in mol/kg from the charge balance: chloride + TA + calcium + 3 sulfate, with sodium making up the charge. Within
	 * +3 % and -0 % of the ionic strength computed from every ion.
	 */
	public double ionicStrength() {
		double strength = this.salt / (1000 * Stoichiometry.SODIUM_CHLORIDE)
				+ this.totalAlkalinity / (1000 * Stoichiometry.CACO3_EQUIVALENT)
				+ this.calciumHardness / (1000 * Stoichiometry.CALCIUM_CARBONATE)
				+ 3 * this.sulfate / (1000 * Stoichiometry.SULFATE);
		return Math.max(strength, 0);
	}

	/** Sodium in mmol/kg by charge balance, potassium counted as sodium; negative if the readings hold more anions than cations. */
	public double sodium() {
		return this.salt / Stoichiometry.SODIUM_CHLORIDE + this.totalAlkalinity / Stoichiometry.CACO3_EQUIVALENT
				- 2 * this.calciumHardness / Stoichiometry.CALCIUM_CARBONATE + 2 * this.sulfate / Stoichiometry.SULFATE;
	}

}
