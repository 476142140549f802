package org.meniscus.water.product;

import org.meniscus.water.units.AmountUnit;

/** How a product comes. */
public enum PhysicalForm {

	LIQUID, GRANULAR, TABLET;

	/** Liquids are measured by volume, everything else by weight. */
	public AmountUnit unit() {
		return (this == LIQUID) ? AmountUnit.ML : AmountUnit.G;
	}

}
