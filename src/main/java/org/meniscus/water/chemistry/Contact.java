package org.meniscus.water.chemistry;

/** Contact time of a disinfectant held at a level. */
public final class Contact {

	private Contact() {
	}

	/** Hours to hold. @param ct mg/L times minutes @param level mg/L Cl2 held, above zero */
	public static double hours(double ct, double level) {
		if (!(level > 0)) {
			throw new IllegalArgumentException("no level is held");
		}
		return ct / level / 60;
	}

}
