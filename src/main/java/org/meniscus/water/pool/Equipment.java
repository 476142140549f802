package org.meniscus.water.pool;

import java.util.EnumSet;
import java.util.Objects;
import java.util.Set;

import org.jspecify.annotations.Nullable;

/**
 * What moves, filters and helps to treat the water of a pool, and what it is used by; everything may be unknown.
 *
 * @param pumpHours the pump runs a day, above 0 to 24
 * @param litresPerHour flow through the filter, above zero
 * @param cleanKilopascals pressure before the filter when it was last cleaned
 * @param coverHours hours of daylight under a cover a day, 0 to 12
 * @param bathersPerDay in the mean of a week
 */
public record Equipment(@Nullable Cell cell, @Nullable Double pumpHours, @Nullable Double litresPerHour, @Nullable Filter filter,
		@Nullable Double cleanKilopascals, @Nullable Double coverHours, @Nullable Double bathersPerDay, Set<SecondSystem> systems) {

	/** Below it a cell makes little or nothing: 60 °F, the upper end of the 50 to 60 °F of makers; common practice, no source. */
	public static final double CELL_CELSIUS = (60 - 32) / 1.8;

	/** Steps of a panel where nobody has said, percent; common practice, no source. */
	public static final double USUAL_STEP = 10;

	/** Hours of one turnover that the usual waits are made for: 8, as the 6 to 8 hours "or one turnover" of the trade. */
	static final double USUAL_TURNOVER = 8;

	/** Waits grow to so many times the usual; common practice, no source. */
	static final double MOST_MIXING = 3;

	public static final Equipment UNKNOWN = new Equipment(null, null, null, null, null, null, null, Set.of());

	/**
	 * Electrolytic chlorine generator.
	 *
	 * @param gramsPerDay of available chlorine when it runs all day at 100 %, as its plate says
	 * @param percent it is set to, 0 to 100; null = not known
	 * @param stepPercent between two settings of its panel, above 0 to 100
	 */
	public record Cell(double gramsPerDay, @Nullable Double percent, double stepPercent) {

		public Cell {
			if (!(gramsPerDay > 0) || !(stepPercent > 0 && stepPercent <= 100) || (percent != null && !(percent >= 0 && percent <= 100))) {
				throw new IllegalArgumentException("no cell: " + gramsPerDay + " g, " + percent + " %, steps of " + stepPercent);
			}
		}

		/** Null without a rating: then nothing can be said of it. */
		public static @Nullable Cell of(@Nullable Double gramsPerDay, @Nullable Double percent, @Nullable Double stepPercent) {
			return (gramsPerDay == null) ? null : new Cell(gramsPerDay, percent, (stepPercent != null) ? stepPercent : USUAL_STEP);
		}

	}

	/** What holds the dirt back. */
	public enum Filter {

		SAND, CARTRIDGE,
		/** Diatomaceous earth. */
		DE

	}

	/** What treats the water beside chlorine or bromine. None leaves a residual. */
	public enum SecondSystem {

		OZONE, UV,
		/** Copper, often with silver. */
		IONIZER;

		public static Set<SecondSystem> of(boolean ozone, boolean uv, boolean ionizer) {
			Set<SecondSystem> systems = EnumSet.noneOf(SecondSystem.class);
			if (ozone) {
				systems.add(OZONE);
			}
			if (uv) {
				systems.add(UV);
			}
			if (ionizer) {
				systems.add(IONIZER);
			}
			return systems;
		}

	}

	/** @throws IllegalArgumentException for a figure out of what is said above */
	public Equipment {
		Objects.requireNonNull(systems);
		systems = systems.isEmpty() ? Set.of() : java.util.Collections.unmodifiableSet(EnumSet.copyOf(systems));
		require(pumpHours, 0.1, 24);
		require(litresPerHour, 1, 1e7);
		require(cleanKilopascals, 1, 1000);
		require(coverHours, 0, 12);
		require(bathersPerDay, 0, 10_000);
	}

	private static void require(@Nullable Double value, double least, double most) {
		if (value != null && !(value >= least && value <= most)) {
			throw new IllegalArgumentException("not from " + least + " to " + most + ": " + value);
		}
	}

	/** With the setting that the panel of the cell shows. @param percent null: as on file */
	public Equipment withCellPercent(@Nullable Double percent) {
		Cell own = this.cell;
		return (own == null || percent == null) ? this
				: new Equipment(new Cell(own.gramsPerDay(), percent, own.stepPercent()), this.pumpHours, this.litresPerHour, this.filter,
						this.cleanKilopascals, this.coverHours, this.bathersPerDay, this.systems);
	}

	/** Grams of chlorine the cell makes a day at 100 % in the hours the pump runs; null when either is not known. */
	public @Nullable Double cellGrams() {
		return (this.cell == null || this.pumpHours == null) ? null
				: Double.valueOf(this.cell.gramsPerDay() * this.pumpHours / 24);
	}

	/** FC that the cell brings a day as it is set, ppm, none in cold water; null when it is not known. */
	public @Nullable Double cellSupply(double litres, double celsius) {
		Double grams = cellGrams();
		Double percent = (this.cell != null) ? this.cell.percent() : null;
		return (grams == null || percent == null) ? null
				: Double.valueOf((celsius < CELL_CELSIUS) ? 0 : grams * percent / 100 * 1000 / litres);
	}

	/** Hours of pumping in which so much water goes through the filter once; null when the flow is not known. */
	public @Nullable Double turnoverHours(double litres) {
		return (this.litresPerHour == null) ? null : Double.valueOf(litres / this.litresPerHour);
	}

}
