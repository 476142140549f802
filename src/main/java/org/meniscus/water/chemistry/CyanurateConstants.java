package org.meniscus.water.chemistry;

/** The two published sets of constants for chlorine bound to cyanuric acid; they disagree on HOCl by 20 to 40 % at 25 °C. */
public enum CyanurateConstants {

	/**
	 * Measured over 5 to 35 °C (Wahman 2018; Wahman and Alexander 2019): the default. Four cyanurate species; extrapolated outside
	 * those temperatures.
	 */
	WAHMAN,
	/**
	 * Ten cyanurate species at 25 °C (O'Brien, Morris and Butler 1974), the set most codes and studies quote. It has no temperature
	 * dependence: at other temperatures these constants are held at their 25 °C values.
	 */
	OBRIEN

}
