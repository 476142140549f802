package org.meniscus.water.product;

import org.meniscus.water.units.Temperature;

/** Where a product stands between delivery and dose, by its mean temperature over day and night; common practice, no source. */
public enum StorageTemperature {

	/** A cool room or cellar. */
	COOL(Temperature.ofFahrenheit(70)),
	/** A shed or a yard in the shade. */
	SHADE(Temperature.ofFahrenheit(80)),
	/** A truck in the sun, or a shed under a hot roof. */
	HOT(Temperature.ofFahrenheit(95));

	private final Temperature mean;

	StorageTemperature(Temperature mean) {
		this.mean = mean;
	}

	public Temperature mean() {
		return this.mean;
	}

}
