package org.meniscus.water.assess;

import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.units.Temperature;

/**
 * FC for killing growth, chosen by the hypochlorous acid it gives and not by a fixed number: what a label's superchlorination level
 * gives in a lightly stabilized water is asked of this water too. Label levels read: 5 to 10 and 7 to 10 ppm (Alden Leeds technical
 * document 3; labels of generic dry chlorine). The reference water (CYA 30, pH 7.5, 26 °C) is common practice, no source.
 */
public enum ShockLevel {

	/** Green tint, film, clouds from lack of chlorine: 7 ppm in the reference water. */
	LIGHT(7, 1, 5),
	/** Bottom not visible: 10 ppm in the reference water. */
	HEAVY(10, 1, 7),
	/** Mustard and black growth, which stand normal chlorine: twice the light level's hypochlorous acid; common practice, no source. */
	STUBBORN(7, 2, 10);

	private static final double REFERENCE_CYA = 30;

	private static final Water REFERENCE = Water.of(7.5, 100, 250, REFERENCE_CYA, 0, 1000, 0, Temperature.ofCelsius(26));

	private final double referenceFc;

	private final double times;

	private final double least;

	ShockLevel(double referenceFc, double times, double least) {
		this.referenceFc = referenceFc;
		this.times = times;
		this.least = least;
	}

	/** Hypochlorous acid asked for, ppm. */
	public double hocl() {
		return this.times * Speciation.of(REFERENCE.withFreeChlorine(this.referenceFc)).hocl();
	}

	/** The lower figure of labels, ppm. */
	public double least() {
		return this.least;
	}

	/** FC that gives it in this water at this pH, ppm; never below the label's lower figure; without a ceiling. */
	public double fc(Water water) {
		return Math.max(this.least, ActiveChlorine.freeChlorineFor(water, hocl()));
	}

}
