package org.meniscus.water.chemistry;

/** Chlorine and monopersulfate that nitrogen compounds use up, by stoichiometry. In practice somewhat more is used. */
public final class Breakpoint {

	/** mg Cl2 per mg ammonia nitrogen, to nitrogen gas: 3 x 70.90/(2 x 14.007) = 7.593. */
	public static final double CHLORINE_PER_AMMONIA_NITROGEN = 3 * Stoichiometry.CHLORINE / (2 * Stoichiometry.NITROGEN);

	/** The same in practice, side reactions counted in: 8 to 10, up to 15 (water-treatment texts; White 1972, from memory). */
	public static final double CHLORINE_PER_AMMONIA_NITROGEN_IN_PRACTICE = 10;

	/** mg/L FC used per mg/L CC that is monochloramine: 2 NH2Cl + HOCl = N2 + H2O + 3 HCl. */
	public static final double FREE_PER_COMBINED = 0.5;

	/** mg KHSO5 per mg/L CC that is monochloramine: half a mole of oxidiser a mole. */
	public static final double MONOPERSULFATE_PER_COMBINED = FREE_PER_COMBINED * Stoichiometry.POTASSIUM_MONOPERSULFATE
			/ Stoichiometry.CHLORINE;

	private Breakpoint() {
	}

}
