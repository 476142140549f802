package org.meniscus.water.pool;

import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * How a level is entered and what is doubted: the figures of the trade table {@code reading-bounds.csv} (its basis column names
 * the source of each row). Values in the level's own unit; temperatures are stated there in Fahrenheit.
 *
 * @param row name of the row in the table
 * @param step of the entry field
 * @param askBelow a reading below it is accepted once confirmed; null = none
 * @param askAbove a reading above it is accepted once confirmed; null = none
 * @param hardMin nothing below it is a reading; the end itself is one
 * @param hardMax nothing above it is a reading; the end itself is one
 * @param rise larger rises since the last visit are asked about; null = none
 * @param fall larger falls since the last visit are asked about; null = none
 */
public record ReadingBounds(Level level, String row, double step, double typicalLow, double typicalHigh, @Nullable Double askBelow,
		@Nullable Double askAbove, double hardMin, double hardMax, @Nullable Change rise, @Nullable Change fall) {

	/** A difference between two visits, in the level's unit or as a share of the earlier reading. */
	public record Change(double by, boolean share) {

		public double limit(double earlier) {
			return this.share ? this.by * earlier : this.by;
		}

	}

	/** No row of the table: steps of 0.25 ppm and an end of 8 ppm stand on colour tests of ammonia, from memory. */
	private static final ReadingBounds AMMONIA = new ReadingBounds(Level.AMMONIA, "ammonia", 0.05, 0, 0, null, 2.0, 0, 20, by(1), null);

	/** No row of the table: asked again above the 0.3 ppm of EPA's health advisory for drinking water, from memory; the rest as iron's. */
	private static final ReadingBounds MANGANESE = new ReadingBounds(Level.MANGANESE, "manganese", 0.01, 0, 0.05, 0.0, 0.3, 0, 10, by(0.2),
			null);

	private static final List<ReadingBounds> POOL = List.of(
			new ReadingBounds(Level.FC, "free_chlorine", 0.1, 2, 8, null, 15.0, 0, 100, by(10), null),
			new ReadingBounds(Level.TC, "total_chlorine", 0.1, 2, 8, null, 20.0, 0, 100, null, null),
			new ReadingBounds(Level.CC, "combined_chlorine", 0.1, 0, 0.4, 0.0, 2.0, 0, 20, by(1), null),
			new ReadingBounds(Level.BROMINE, "bromine", 0.2, 2, 8, 0.0, 15.0, 0, 50, null, null),
			new ReadingBounds(Level.PH, "ph", 0.1, 7.2, 7.8, 6.8, 8.2, 4, 10, by(0.6), by(0.6)),
			new ReadingBounds(Level.TA, "total_alkalinity", 10, 60, 140, 40.0, 240.0, 0, 600, by(40), by(40)),
			new ReadingBounds(Level.CH, "calcium_hardness", 10, 150, 450, 50.0, 800.0, 0, 3000, by(50), share(0.15)),
			new ReadingBounds(Level.CYA, "cyanuric_acid", 5, 20, 60, null, 120.0, 0, 500, by(20), by(15)),
			new ReadingBounds(Level.SALT, "salt", 50, 2700, 4200, 1500.0, 7000.0, 0, 40000, by(600), by(600)),
			new ReadingBounds(Level.TDS, "tds", 50, 500, 2500, 150.0, 6000.0, 50, 40000, by(1000), null),
			new ReadingBounds(Level.BORATE, "borate", 5, 0, 60, 0.0, 100.0, 0, 300, by(15), by(15)),
			new ReadingBounds(Level.PHOSPHATE, "phosphate", 50, 0, 500, 0.0, 3000.0, 0, 20000, by(500), null),
			new ReadingBounds(Level.COPPER, "copper", 0.05, 0, 0.2, 0.0, 0.5, 0, 5, by(0.2), null),
			new ReadingBounds(Level.IRON, "iron", 0.05, 0, 0.1, 0.0, 0.5, 0, 10, by(0.2), null),
			MANGANESE, AMMONIA,
			temperature("water_temperature_pool", 60, 90, 40, 98, 32, 115, 15.0));

	private static final ReadingBounds SPA_TEMPERATURE = temperature("water_temperature_spa", 95, 104, 60, 104, 32, 120, null);

	/** Null for a level that is not entered but worked out. */
	public static @Nullable ReadingBounds of(Level level, BodyOfWater body) {
		if (level == Level.TEMPERATURE && body == BodyOfWater.SPA) {
			return SPA_TEMPERATURE;
		}
		for (ReadingBounds bounds : POOL) {
			if (bounds.level == level) {
				return bounds;
			}
		}
		return null;
	}

	private static ReadingBounds temperature(String row, double typicalLow, double typicalHigh, double askBelow, double askAbove,
			double hardMin, double hardMax, @Nullable Double changeFahrenheit) {
		Change change = (changeFahrenheit != null) ? by(changeFahrenheit / 1.8) : null;
		return new ReadingBounds(Level.TEMPERATURE, row, 1 / 1.8, celsius(typicalLow), celsius(typicalHigh), celsius(askBelow),
				celsius(askAbove), celsius(hardMin), celsius(hardMax), change, change);
	}

	private static double celsius(double fahrenheit) {
		return (fahrenheit - 32) / 1.8;
	}

	private static Change by(double by) {
		return new Change(by, false);
	}

	private static Change share(double share) {
		return new Change(share, true);
	}

}
