package org.meniscus.water.assess;

import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.units.RootFinder;
import org.meniscus.water.units.Temperature;

/** Free chlorine by the hypochlorous acid it gives: the part that disinfects. */
public final class ActiveChlorine {

	/** No water asks for more, ppm. */
	private static final double MAX_FC = 400;

	private static final int HALVINGS = 50;

	/** CYA at which a ratio is turned into hypochlorous acid; the answer hardly depends on it. Common practice, no source. */
	private static final double REFERENCE_CYA = 40;

	private ActiveChlorine() {
	}

	/** Hypochlorous acid, ppm, that a CYA to FC ratio gives at pH 7.5 and 25 °C. */
	static double hoclAtRatio(double cyaPerFc) {
		return Speciation.of(Water.of(7.5, 100, 250, REFERENCE_CYA, REFERENCE_CYA / cyaPerFc, 1000, 0, Temperature.ofCelsius(25))).hocl();
	}

	/** FC, ppm, that gives so much hypochlorous acid in this water at its pH. */
	public static double freeChlorineFor(Water water, double hocl) {
		return RootFinder.bisect(0, MAX_FC, HALVINGS, fc -> Speciation.of(water.withFreeChlorine(fc)).hocl() < hocl).high();
	}

}
