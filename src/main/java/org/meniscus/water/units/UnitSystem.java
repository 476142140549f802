package org.meniscus.water.units;

/** The units a company works in; a page never mixes them. Inside, everything is metric. */
public enum UnitSystem {

	/** US gallons, pounds, ounces, fluid ounces, feet, degrees Fahrenheit. */
	US,
	/** Litres, cubic metres, grams, kilograms, millilitres, metres, degrees Celsius. */
	METRIC

}
