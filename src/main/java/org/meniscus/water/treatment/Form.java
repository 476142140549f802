package org.meniscus.water.treatment;

/** How a product comes. */
public enum Form {

	LIQUID, GRANULAR, TABLET;

	/** Liquids are measured by volume, everything else by weight. */
	public AmountUnit unit() {
		return (this == LIQUID) ? AmountUnit.ML : AmountUnit.G;
	}

}
