package org.meniscus.client;

import java.math.BigDecimal;
import java.math.RoundingMode;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** What a pool is entered in: gallons, feet and square feet, or cubic metres, metres and square metres. */
public enum PoolUnits {

	/** The foot is 0.3048 m: exact by international agreement. */
	US(Volume.LITRES_PER_US_GALLON, 0.3048, 1, 2, 1),
	METRIC(1000, 1, 4, 2, 2);

	private final double litres;

	private final double metres;

	private final int volumeDecimals;

	private final int lengthDecimals;

	private final int areaDecimals;

	PoolUnits(double litres, double metres, int volumeDecimals, int lengthDecimals, int areaDecimals) {
		this.litres = litres;
		this.metres = metres;
		this.volumeDecimals = volumeDecimals;
		this.lengthDecimals = lengthDecimals;
		this.areaDecimals = areaDecimals;
	}

	public static PoolUnits of(UnitSystem units) {
		return (units == UnitSystem.US) ? US : METRIC;
	}

	public double litresPerVolume() {
		return litres;
	}

	public double metresPerLength() {
		return metres;
	}

	/** Chlorine that a cell makes: pounds or grams. */
	public double gramsPerCellRating() {
		return (this == US) ? Mass.GRAMS_PER_POUND : 1;
	}

	/** Gallons a minute, or cubic metres an hour. */
	public double litresPerHourOfFlow() {
		return (this == US) ? litres * 60 : litres;
	}

	/** Pounds a square inch, or bar. */
	public double kilopascalsPerPressure() {
		return (this == US) ? Wording.KILOPASCALS_PER_PSI : Wording.KILOPASCALS_PER_BAR;
	}

	public double squareMetresPerArea() {
		return metres * metres;
	}

	/** Litres as a form shows them: whole gallons from 1,000 on. */
	public @Nullable BigDecimal volume(@Nullable Double litres) {
		if (litres == null) {
			return null;
		}
		double shown = litres / this.litres;
		return rounded(shown, (this == US && shown >= 1000) ? 0 : volumeDecimals);
	}

	public @Nullable BigDecimal length(@Nullable Double metres) {
		return (metres != null) ? rounded(metres / this.metres, lengthDecimals) : null;
	}

	public @Nullable BigDecimal area(@Nullable Double squareMetres) {
		return (squareMetres != null) ? rounded(squareMetres / squareMetresPerArea(), areaDecimals) : null;
	}

	public static BigDecimal rounded(double value, int decimals) {
		return new BigDecimal(QuantityFormatter.decimal(value, decimals));
	}

	/** A limit of a range in a message. */
	public static String formatLimit(double value) {
		return formatGrouped(value, (Math.abs(value) < 100 && value != Math.rint(value)) ? 2 : 0);
	}

	/** A figure with thousands apart, at most so many decimals. */
	public static String formatGrouped(double value, int decimals) {
		BigDecimal rounded = BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
		BigDecimal plain = (rounded.signum() == 0) ? BigDecimal.ZERO : rounded.stripTrailingZeros();
		return String.format(java.util.Locale.US, "%,." + Math.max(0, plain.scale()) + "f", plain);
	}

}
