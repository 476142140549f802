package org.meniscus.water.chemistry;

import org.meniscus.water.units.Temperature;

/**
 * Evaporation from an undisturbed open water surface: W = (0.089 + 0.0782 v)(pw - pa)/Y in kg/(m² s), the ASHRAE/Carrier formula in
 * SI (Smith et al. 1998 print the inch-pound form). Vapour pressure by Magnus and latent heat 2501 - 2.361 t: from memory.
 * Physical uncertainty about 25 %, our judgement.
 */
public final class Evaporation {

	private Evaporation() {
	}

	/** Saturation vapour pressure in kPa. */
	public static double vapourPressure(Temperature temperature) {
		double t = temperature.celsius();
		return 0.61094 * Math.exp(17.625 * t / (t + 243.04));
	}

	/** Latent heat of evaporation in kJ/kg. */
	public static double latentHeat(Temperature temperature) {
		return 2501 - 2.361 * temperature.celsius();
	}

	/** kg/(m² h), which is mm/h. @param relativeHumidity 0 to 1 @param wind in m/s */
	public static double perHour(Temperature water, Temperature air, double relativeHumidity, double wind) {
		double deficit = vapourPressure(water) - relativeHumidity * vapourPressure(air);
		return 3600 * (0.089 + 0.0782 * wind) * deficit / latentHeat(water);
	}

}
