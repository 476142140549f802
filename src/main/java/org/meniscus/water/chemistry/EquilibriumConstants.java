package org.meniscus.water.chemistry;

import org.meniscus.water.units.Temperature;

/**
 * Thermodynamic equilibrium constants at one temperature, as pK (-log10 K) or log10 K, for zero ionic strength. Sources, formulas
 * and validity: docs/water-chemistry.md.
 */
public final class EquilibriumConstants {

	private static final double KELVIN_AT_25 = 298.15;

	/** Gas constant in kcal/(mol K), as the database that states these enthalpies uses it. */
	private static final double GAS_CONSTANT = 1.98716e-3;

	private static final double LN10 = 2.302585092994046;

	private final double kelvin;

	private final double log10Kelvin;

	private final CyanurateConstants cyanurates;

	/** The constants themselves, which every water of one plan asks for anew. */
	private final ConstantsAtZeroStrength constants;

	/** A plan asks for one temperature, hundreds of times. */
	private static volatile EquilibriumConstants last = new EquilibriumConstants(Temperature.ofCelsius(25), CyanurateConstants.WAHMAN);

	private EquilibriumConstants(Temperature temperature, CyanurateConstants cyanurates) {
		this.kelvin = temperature.kelvin();
		this.log10Kelvin = Math.log10(this.kelvin);
		this.cyanurates = cyanurates;
		this.constants = new ConstantsAtZeroStrength(power(-pKw()), power(-pK1()), power(-pK2()), power(logCalciumBicarbonate()),
				power(logCalciumCarbonate()), power(logCalciumSulfate()), power(-pKBoricAcid()), power(-pKHypochlorousAcid()),
				power(-pK6()), power(-pK7a()), power(-pK9a()), power(-pKCalcite()), power(-pKH()), daviesSlope());
	}

	/** K at zero ionic strength, from the methods below, and the slope of Davies' equation. */
	record ConstantsAtZeroStrength(double water, double first, double second, double bicarbonatePair, double carbonatePair,
			double sulfatePair, double boricAcid, double hypochlorousAcid, double k6, double k7a, double k9a, double calcite,
			double henry, double daviesSlope) {
	}

	public static EquilibriumConstants at(Temperature temperature, CyanurateConstants cyanurates) {
		EquilibriumConstants known = last;
		if (known.kelvin != temperature.kelvin() || known.cyanurates != cyanurates) {
			known = new EquilibriumConstants(temperature, cyanurates);
			last = known;
		}
		return known;
	}

	ConstantsAtZeroStrength atZeroStrength() {
		return this.constants;
	}

	private static double power(double exponent) {
		return Math.exp(LN10 * exponent);
	}

	/** H2O = H+ + OH-. Nordstrom et al. 1990. */
	public double pKw() {
		return -analytic(-283.971, -0.05069842, 13323.0, 102.24447, -1119669);
	}

	/** CO2(gas) = CO2(dissolved), mol/kg per atm. Plummer and Busenberg 1982. */
	public double pKH() {
		return -analytic(108.3865, 0.01985076, -6919.53, -40.45154, 669365);
	}

	/** CO2(dissolved) + H2O = H+ + HCO3-. Plummer and Busenberg 1982. */
	public double pK1() {
		return analytic(356.3094, 0.06091964, -21834.37, -126.8339, 1684915);
	}

	/** HCO3- = H+ + CO3--. Plummer and Busenberg 1982. */
	public double pK2() {
		return analytic(107.8871, 0.03252849, -5151.79, -38.92561, 563713.9);
	}

	/** CaCO3(calcite) = Ca++ + CO3--. Plummer and Busenberg 1982. */
	public double pKCalcite() {
		return analytic(171.9065, 0.077993, -2839.319, -71.595, 0);
	}

	/** Log10 K of Ca++ + HCO3- = CaHCO3+. Plummer and Busenberg 1982. */
	public double logCalciumBicarbonate() {
		return analytic(1209.120, 0.31294, -34765.05, -478.782, 0);
	}

	/** Log10 K of Ca++ + CO3-- = CaCO3(dissolved). Plummer and Busenberg 1982. */
	public double logCalciumCarbonate() {
		return analytic(-1228.732, -0.299444, 35512.75, 485.818, 0);
	}

	/** Log10 K of Ca++ + SO4-- = CaSO4(dissolved). WATEQ4F database. */
	public double logCalciumSulfate() {
		return 2.30 + vantHoff(1.65);
	}

	/** B(OH)3 + H2O = B(OH)4- + H+. WATEQ4F database. */
	public double pKBoricAcid() {
		return 9.24 - vantHoff(3.224);
	}

	/** HOCl = H+ + OCl-. Morris 1966. */
	public double pKHypochlorousAcid() {
		return 3000.00 / this.kelvin - 10.0686 + 0.0253 * this.kelvin;
	}

	/** H3Cy = H+ + H2Cy-. */
	public double pK6() {
		return this.cyanurates == CyanurateConstants.WAHMAN ? 1743 / this.kelvin + 1.12 : ObrienConstants.PK6;
	}

	/** HClCy- + H2O = H2Cy- + HOCl. */
	public double pK9a() {
		return this.cyanurates == CyanurateConstants.WAHMAN ? 2229 / this.kelvin - 1.65 : ObrienConstants.PK9A;
	}

	/** Cl2Cy- + H2O = HClCy- + HOCl. */
	public double pK7a() {
		return this.cyanurates == CyanurateConstants.WAHMAN ? 2028 / this.kelvin - 2.15 : ObrienConstants.PK7A;
	}

	/**
	 * Debye-Hückel slope A of log10 g = -A z² (√I/(1+√I) - 0.3 I), in (kg/mol)^0.5. Standard Methods 2330, Davies 1962; from memory.
	 */
	public double daviesSlope() {
		double dielectric = 60954 / (this.kelvin + 116) - 68.937;
		double product = dielectric * this.kelvin;
		return 1.82e6 / (product * Math.sqrt(product));
	}

	CyanurateConstants cyanurates() {
		return this.cyanurates;
	}

	private double analytic(double constant, double linear, double inverse, double logarithmic, double inverseSquare) {
		return constant + linear * this.kelvin + (inverse + inverseSquare / this.kelvin) / this.kelvin + logarithmic * this.log10Kelvin;
	}

	/** Change of log10 K from 25 °C for an enthalpy in kcal/mol. */
	private double vantHoff(double enthalpy) {
		return enthalpy / (GAS_CONSTANT * LN10) * (1 / KELVIN_AT_25 - 1 / this.kelvin);
	}

}
