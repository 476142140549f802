package org.meniscus.water.chemistry;

import static org.meniscus.water.chemistry.Stoichiometry.CACO3_EQUIVALENT;
import static org.meniscus.water.chemistry.Stoichiometry.CHLORINE;

/**
 * What comes into the water with each mg/L Cl2 of free chlorine at the moment of dosing, by stoichiometry. What happens when that
 * chlorine is used up is the same for every source: see {@link Dosing#spendChlorine}.
 *
 * @param alkalinity TA in mg/L CaCO3 per mg/L Cl2
 * @param hardness CH in mg/L CaCO3 per mg/L Cl2
 * @param cyanuricAcid CYA in mg/L per mg/L Cl2
 * @param salt chloride, as mg/L NaCl, per mg/L Cl2; negative for a salt cell, which makes chlorine from it
 */
public record ChlorineSource(double alkalinity, double hardness, double cyanuricAcid, double salt) {

	/** NaOCl with as many moles of NaCl and no excess caustic. */
	public static final ChlorineSource SODIUM_HYPOCHLORITE = new ChlorineSource(Stoichiometry.TA_PER_CHLORINE, 0, 0,
			Stoichiometry.SALT_PER_CHLORINE);

	/** Pure Ca(OCl)2; a commercial product carries more calcium, lime and salt. */
	public static final ChlorineSource CALCIUM_HYPOCHLORITE = new ChlorineSource(Stoichiometry.TA_PER_CHLORINE,
			Stoichiometry.CH_PER_CALCIUM_HYPOCHLORITE_CHLORINE, 0, 0);

	/** LiOCl alone; a commercial product also carries salt and sulfates. */
	public static final ChlorineSource LITHIUM_HYPOCHLORITE = new ChlorineSource(Stoichiometry.TA_PER_CHLORINE, 0, 0, 0);

	/** Sodium dichloroisocyanurate of either hydrate. */
	public static final ChlorineSource DICHLOR = new ChlorineSource(CACO3_EQUIVALENT / (2 * CHLORINE), 0,
			Stoichiometry.CYA_PER_DICHLOR_CHLORINE, 0);

	/** Trichloroisocyanuric acid. */
	public static final ChlorineSource TRICHLOR = new ChlorineSource(0, 0, Stoichiometry.CYA_PER_TRICHLOR_CHLORINE, 0);

	/** Cl2, which becomes HOCl and hydrochloric acid. */
	public static final ChlorineSource CHLORINE_GAS = new ChlorineSource(-Stoichiometry.TA_PER_CHLORINE, 0, 0,
			Stoichiometry.SALT_PER_CHLORINE);

	/** Electrolysis of the pool's own chloride; hydrogen leaves. */
	public static final ChlorineSource SALT_CELL = new ChlorineSource(Stoichiometry.TA_PER_CHLORINE, 0, 0,
			-Stoichiometry.SALT_PER_CHLORINE);

	/** This source with excess caustic soda, in mg NaOH per mg Cl2. */
	public ChlorineSource withExcessCaustic(double sodiumHydroxide) {
		return new ChlorineSource(this.alkalinity + sodiumHydroxide * CACO3_EQUIVALENT / Stoichiometry.SODIUM_HYDROXIDE, this.hardness,
				this.cyanuricAcid, this.salt);
	}

	/** This source with calcium chloride in it, in mg CH as CaCO3 per mg Cl2 beyond what the pure substance brings. */
	public ChlorineSource withExtraHardness(double calciumCarbonate) {
		return new ChlorineSource(this.alkalinity, this.hardness + calciumCarbonate, this.cyanuricAcid,
				this.salt + calciumCarbonate * Stoichiometry.SALT_PER_CALCIUM_CHLORIDE_HARDNESS);
	}

}
