package org.meniscus.water.chemistry;

/**
 * Molar masses in g/mol from the abridged IUPAC atomic masses, and the conversions between the units of a test kit that follow
 * from them.
 */
public final class Stoichiometry {

	private static final double H = 1.008;

	private static final double C = 12.011;

	private static final double N = 14.007;

	private static final double O = 15.999;

	private static final double NA = 22.990;

	private static final double S = 32.06;

	private static final double CL = 35.45;

	private static final double BR = 79.904;

	private static final double K = 39.098;

	private static final double CA = 40.078;

	private static final double P = 30.974;

	/** Lanthanum. */
	public static final double LANTHANUM = 138.905;

	/** PO4: the unit of phosphate. */
	public static final double PHOSPHATE = P + 4 * O;

	/** Boron. */
	public static final double BORON = 10.81;

	/** Nitrogen. */
	public static final double NITROGEN = N;

	/** Chlorine, Cl2: the unit of FC and CC. */
	public static final double CHLORINE = 2 * CL;

	/** Bromine, Br2: the unit of bromine; a mole of it for each mole of Cl2 that meets bromide (2.254 mg a mg). */
	public static final double BROMINE = 2 * BR;

	/** Calcium carbonate: the unit of TA and CH. */
	public static final double CALCIUM_CARBONATE = CA + C + 3 * O;

	/** Milligrams CaCO3 in one milliequivalent. */
	public static final double CACO3_EQUIVALENT = CALCIUM_CARBONATE / 2;

	public static final double CYANURIC_ACID = 3 * (H + C + N + O);

	public static final double SODIUM_CHLORIDE = NA + CL;

	public static final double SULFATE = S + 4 * O;

	public static final double CARBON_DIOXIDE = C + 2 * O;

	public static final double HYDROCHLORIC_ACID = H + CL;

	public static final double SODIUM_BISULFATE = NA + H + SULFATE;

	public static final double SODIUM_CARBONATE = 2 * NA + C + 3 * O;

	public static final double SODIUM_BICARBONATE = NA + H + C + 3 * O;

	public static final double SODIUM_HYDROXIDE = NA + O + H;

	public static final double CALCIUM_CHLORIDE = CA + 2 * CL;

	public static final double BORIC_ACID = 3 * H + BORON + 3 * O;

	/** Na2B4O7.5H2O. */
	public static final double BORAX_PENTAHYDRATE = 2 * NA + 4 * BORON + 12 * O + 10 * H;

	public static final double SODIUM_HYPOCHLORITE = NA + O + CL;

	/** KHSO5, the oxidiser of the triple salt. */
	public static final double POTASSIUM_MONOPERSULFATE = K + H + S + 5 * O;

	/** 2 KHSO5 . KHSO4 . K2SO4. */
	public static final double MONOPERSULFATE_TRIPLE_SALT = 2 * POTASSIUM_MONOPERSULFATE + (K + H + SULFATE) + (2 * K + SULFATE);

	/** TA in mg/L CaCO3 that goes with each mg/L Cl2 of hypochlorite: lost when that chlorine is used up (0.7058). */
	public static final double TA_PER_CHLORINE = CACO3_EQUIVALENT / CHLORINE;

	/** Chloride, as mg/L NaCl, that each mg/L Cl2 of FC leaves behind when it is used up (0.8243). */
	public static final double SALT_PER_CHLORINE = SODIUM_CHLORIDE / CHLORINE;

	/** CYA in mg/L that comes with each mg/L Cl2 of dichlor, either hydrate (0.9103). */
	public static final double CYA_PER_DICHLOR_CHLORINE = CYANURIC_ACID / (2 * CHLORINE);

	/** CYA in mg/L that comes with each mg/L Cl2 of trichlor (0.6068). */
	public static final double CYA_PER_TRICHLOR_CHLORINE = CYANURIC_ACID / (3 * CHLORINE);

	/** CH in mg/L CaCO3 that comes with each mg/L Cl2 of pure calcium hypochlorite (0.7058). */
	public static final double CH_PER_CALCIUM_HYPOCHLORITE_CHLORINE = CALCIUM_CARBONATE / (2 * CHLORINE);

	/** Chloride, as mg/L NaCl, that comes with each mg/L CaCO3 of hardness from calcium chloride (1.1678). */
	public static final double SALT_PER_CALCIUM_CHLORIDE_HARDNESS = 2 * SODIUM_CHLORIDE / CALCIUM_CARBONATE;

	private Stoichiometry() {
	}

}
