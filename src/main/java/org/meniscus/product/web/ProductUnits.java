package org.meniscus.product.web;

import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** Units in which a product's figures are stated on a page, as multiples of what is kept. */
final class ProductUnits {

	private static final double LABEL_GALLONS = 10_000;

	private static final double LABEL_CUBIC_METRES = 10;

	private ProductUnits() {
	}

	/** Kilograms per litre in one pound per US gallon, or 1. */
	static double kilogramsPerLitre(UnitSystem units) {
		return (units == UnitSystem.US) ? Mass.GRAMS_PER_POUND / 1000 / Volume.LITRES_PER_US_GALLON : 1;
	}

	/** Cubic metres of pool water a label's maximum is stated for: 10,000 US gallons or 10 m³. */
	static double labelCubicMetres(UnitSystem units) {
		return (units == UnitSystem.US) ? Volume.ofUsGallons(LABEL_GALLONS).cubicMetres() : LABEL_CUBIC_METRES;
	}

}
