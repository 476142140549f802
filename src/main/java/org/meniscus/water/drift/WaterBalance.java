package org.meniscus.water.drift;

/**
 * Water of one pool as a column, mm: what a day of weather, use and filling does to it. After {@link #day} a dissolved level
 * {@code c} has become {@code c × kept + added}, where what comes in with each ppm of fill water is {@link #filled} and what is
 * put in, in ppm of the operating volume, counts {@link #dosed} times.
 */
final class WaterBalance {

	/** Filled by hand once the level stands so far below the operating level, mm, and up to so far above it. Assumption. */
	private static final double HAND_LOW = -40;

	private static final double HAND_HIGH = 10;

	final boolean autofill;

	/** Mean depth at the operating level. */
	double depth;

	/** Level above the operating level. */
	double height;

	/** Room above the operating level before water overflows. */
	double room;

	/** Water left after the day, before it is filled up. */
	double left;

	/** What each ppm before the day is after it, products and fill water aside. */
	double kept;

	/** What each ppm of the fill water adds. */
	double filled;

	/** What each ppm put in, on the operating volume, adds. */
	double dosed;

	WaterBalance(boolean autofill) {
		this.autofill = autofill;
	}

	/** @param rain,evaporation,out mm of the day; {@code out} is splash-out, leak and backwash */
	void day(double rain, double evaporation, double out) {
		double before = depth + height;
		double full = before + rain - evaporation;
		left = Math.min(full - out, depth + room);
		double now = left;
		if (autofill) {
			now = Math.max(now, depth);
		}
		else if (now < depth + HAND_LOW) {
			now = depth + HAND_HIGH;
		}
		double per = 1 / (full * now);
		double scale = left * per;
		kept = before * scale;
		dosed = depth * scale;
		filled = (now - left) * full * per;
		height = now - depth;
	}

}
