package org.meniscus.water.product;

/** What a strength on a label counts. */
public enum StrengthBasis {

	/** Liquid chlorine: grams of available chlorine per 100 mL. */
	TRADE,
	/** Liquid chlorine: weight percent of sodium hypochlorite. */
	WEIGHT,
	/** Solids: weight percent available chlorine of a chlorine product, of active substance in all others; acids likewise. */
	PURITY

}
