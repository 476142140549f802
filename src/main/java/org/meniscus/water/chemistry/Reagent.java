package org.meniscus.water.chemistry;

import static org.meniscus.water.chemistry.Stoichiometry.BORON;
import static org.meniscus.water.chemistry.Stoichiometry.CACO3_EQUIVALENT;
import static org.meniscus.water.chemistry.Stoichiometry.CALCIUM_CARBONATE;

/** A pure substance as it is dosed, with what each mg/L of it changes, by stoichiometry. The unit of a dose is part of its name. */
public enum Reagent {

	/** Dose in mg/L HCl. */
	HYDROCHLORIC_ACID(-CACO3_EQUIVALENT / Stoichiometry.HYDROCHLORIC_ACID, 0, 0, 0, Stoichiometry.SODIUM_CHLORIDE
			/ Stoichiometry.HYDROCHLORIC_ACID, 0, 0),
	/** Dose in mg/L NaHSO4. */
	SODIUM_BISULFATE(-CACO3_EQUIVALENT / Stoichiometry.SODIUM_BISULFATE, 0, 0, 0, 0, 0, Stoichiometry.SULFATE
			/ Stoichiometry.SODIUM_BISULFATE),
	/** Soda ash; dose in mg/L Na2CO3. */
	SODIUM_CARBONATE(2 * CACO3_EQUIVALENT / Stoichiometry.SODIUM_CARBONATE, 1 / Stoichiometry.SODIUM_CARBONATE, 0, 0, 0, 0, 0),
	/** Dose in mg/L NaHCO3. */
	SODIUM_BICARBONATE(CACO3_EQUIVALENT / Stoichiometry.SODIUM_BICARBONATE, 1 / Stoichiometry.SODIUM_BICARBONATE, 0, 0, 0, 0, 0),
	/** Dose in mg/L NaOH. */
	SODIUM_HYDROXIDE(CACO3_EQUIVALENT / Stoichiometry.SODIUM_HYDROXIDE, 0, 0, 0, 0, 0, 0),
	/** Na2B4O7 of any hydrate; dose in mg/L as boron. */
	BORAX(CACO3_EQUIVALENT / (2 * BORON), 0, 0, 0, 0, 1, 0),
	/** Dose in mg/L as boron. */
	BORIC_ACID(0, 0, 0, 0, 0, 1, 0),
	/** Dose in mg/L cyanuric acid. */
	CYANURIC_ACID(0, 0, 0, 1, 0, 0, 0),
	/** Dose in mg/L CO2. */
	CARBON_DIOXIDE(0, 1 / Stoichiometry.CARBON_DIOXIDE, 0, 0, 0, 0, 0),
	/** Dose in mg/L of hardness as CaCO3. */
	CALCIUM_CHLORIDE(0, 0, 1, 0, 2 * Stoichiometry.SODIUM_CHLORIDE / CALCIUM_CARBONATE, 0, 0),
	/** Dose in mg/L NaCl. */
	SODIUM_CHLORIDE(0, 0, 0, 0, 1, 0, 0);

	private final double alkalinity;

	private final double carbon;

	private final double hardness;

	private final double cyanuricAcid;

	private final double salt;

	private final double borate;

	private final double sulfate;

	Reagent(double alkalinity, double carbon, double hardness, double cyanuricAcid, double salt, double borate, double sulfate) {
		this.alkalinity = alkalinity;
		this.carbon = carbon;
		this.hardness = hardness;
		this.cyanuricAcid = cyanuricAcid;
		this.salt = salt;
		this.borate = borate;
		this.sulfate = sulfate;
	}

	/** Change of TA in mg/L CaCO3 per mg/L dosed. */
	public double alkalinity() {
		return this.alkalinity;
	}

	/** Inorganic carbon in mmol/L per mg/L dosed. */
	public double carbon() {
		return this.carbon;
	}

	/** Change of CH in mg/L CaCO3 per mg/L dosed. */
	public double hardness() {
		return this.hardness;
	}

	/** Change of CYA in mg/L per mg/L dosed. */
	public double cyanuricAcid() {
		return this.cyanuricAcid;
	}

	/** Change of chloride, as mg/L NaCl, per mg/L dosed. */
	public double salt() {
		return this.salt;
	}

	/** Change of borate in mg/L B per mg/L dosed. */
	public double borate() {
		return this.borate;
	}

	/** Change of sulfate in mg/L SO4 per mg/L dosed. */
	public double sulfate() {
		return this.sulfate;
	}

	/** The levels of {@code water} after the dose, its pH still the old one. */
	Water levels(Water water, double dose) {
		return new Water(water.ph(), water.totalAlkalinity() + this.alkalinity * dose, water.calciumHardness() + this.hardness * dose,
				water.cyanuricAcid() + this.cyanuricAcid * dose, water.freeChlorine(), water.salt() + this.salt * dose,
				water.borate() + this.borate * dose, water.sulfate() + this.sulfate * dose, water.temperature());
	}

}
