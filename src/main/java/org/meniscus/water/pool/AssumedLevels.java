package org.meniscus.water.pool;

/** Levels that the equilibrium works with where nobody has tested; ppm but for temperatures. Common practice, no source. */
public final class AssumedLevels {

	public static final double TA = 100;

	public static final double CH = 250;

	public static final double CYA_OUTDOORS = 40;

	public static final double SALT = 1000;

	/** In a pool with a salt cell. */
	public static final double CELL_SALT = 3200;

	/** In fill water. */
	public static final double FILL_SALT = 300;

	/** Degrees Celsius, of a pool. */
	public static final double CELSIUS = 26;

	/** Degrees Celsius, of a spa. */
	public static final double SPA_CELSIUS = 38;

	private AssumedLevels() {
	}

}
