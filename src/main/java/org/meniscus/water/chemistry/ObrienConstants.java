package org.meniscus.water.chemistry;

/**
 * The pK values of O'Brien, Morris and Butler (1974) at 25 °C, zero ionic strength. Those derived from others are marked redundant.
 */
public final class ObrienConstants {

	/** Cl3Cy + H2O = HCl2Cy + HOCl. */
	public static final double PK1A = 1.80;

	/** HCl2Cy = H+ + Cl2Cy-. */
	public static final double PK2 = 3.75;

	/** H2ClCy = H+ + HClCy-. */
	public static final double PK4 = 5.33;

	/** H3Cy = H+ + H2Cy-. */
	public static final double PK6 = 6.88;

	/** Cl2Cy- + H2O = HClCy- + HOCl. */
	public static final double PK7A = 4.51;

	/** HClCy- = H+ + ClCy--. */
	public static final double PK8 = 10.12;

	/** H2Cy- = H+ + HCy--. */
	public static final double PK10 = 11.40;

	/** ClCy-- + H2O = HCy-- + HOCl. */
	public static final double PK11A = 6.90;

	/** HCy-- = H+ + Cy---. */
	public static final double PK12 = 13.5;

	/** HClCy- + H2O = H2Cy- + HOCl; redundant. */
	public static final double PK9A = PK8 + PK11A - PK10;

	private ObrienConstants() {
	}

}
