package org.meniscus.water.season;

/**
 * Prices in one pool, minor units of the company's currency. All are zero or more; infinite where the company has no such product.
 *
 * @param chlorine poured that leaves neither CYA nor CH, one ppm FC
 * @param supplied by trichlor tablets, or by a cell as it wears, one ppm FC
 * @param calciumHypochlorite one ppm FC
 * @param acid one ppm TA less
 * @param alkali one ppm TA more
 * @param stabilizer one ppm CYA more
 * @param hardness one ppm CH more
 * @param water all the water of the pool
 * @param drainVisit work of one drain of up to a third of the water
 * @param dayBelowMinimum one warm day on which FC is below its minimum
 */
record SeasonPrices(double chlorine, double supplied, double calciumHypochlorite, double acid, double alkali, double stabilizer,
		double hardness, double water, double drainVisit, double dayBelowMinimum) {

	/** Prices this close, relative, are taken as one: pools that differ in no more share a solution. */
	private static final double STEP = Math.log(1.15);

	SeasonPrices rounded() {
		return new SeasonPrices(round(this.chlorine), round(this.supplied), round(this.calciumHypochlorite), round(this.acid),
				round(this.alkali), round(this.stabilizer), round(this.hardness), round(this.water), round(this.drainVisit),
				round(this.dayBelowMinimum));
	}

	/** To the next step of a geometric series; zero and infinite stay. */
	static double round(double value) {
		return (value <= 0 || Double.isInfinite(value)) ? value : Math.exp(STEP * Math.rint(Math.log(value) / STEP));
	}

}
