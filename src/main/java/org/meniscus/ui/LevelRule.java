package org.meniscus.ui;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

/**
 * A level drawn as a graduated rule: a scale with the acceptable and the ideal band, a filled mark for now and a hollow mark
 * for after the dose. Positions are in the drawing's own units, 0 to {@value #WIDTH}; drawn by {@code shared/rule}.
 *
 * @param lowText value at the left end of the scale
 * @param highText value at its right end
 * @param state code under {@code level.state.*}; said in words beside the drawing, never by colour alone
 */
public record LevelRule(String label, String unit, String state, String nowText, @Nullable String afterText, String idealText,
		double acceptableX, double acceptableWidth, double idealX, double idealWidth, @Nullable Double nowX,
		@Nullable Double afterX, String lowText, String highText) {

	public static final int WIDTH = 240;

	/**
	 * @param band in the unit shown, as are {@code now} and {@code after}
	 * @param now reading, or null when not measured
	 * @param qualifier of the reading
	 * @param after what it will be after the dose, or null when there is none
	 * @param decimals digits after the point in which the level is stated
	 */
	public static LevelRule of(String label, String unit, String state, Range band, @Nullable Double now,
			ReadingQualifier qualifier, @Nullable Double after, int decimals) {
		double span = Math.max(band.acceptableHigh() - band.acceptableLow(), 1e-6);
		double low = Math.max(band.acceptableLow() - 0.35 * span, (band.acceptableLow() >= 0) ? 0 : -1e9);
		double high = band.acceptableHigh() + 0.35 * span;
		String sign = (qualifier == ReadingQualifier.EXACT) ? "" : qualifier.sign() + " ";
		return new LevelRule(label, unit, state, (now != null) ? sign + Wording.decimal(now, decimals) : "–",
				(after != null) ? Wording.decimal(after, decimals) : null,
				Wording.decimal(band.idealLow(), decimals) + "–" + Wording.decimal(band.idealHigh(), decimals),
				x(band.acceptableLow(), low, high), x(band.acceptableHigh(), low, high) - x(band.acceptableLow(), low, high),
				x(band.idealLow(), low, high), x(band.idealHigh(), low, high) - x(band.idealLow(), low, high),
				(now != null) ? x(now, low, high) : null, (after != null) ? x(after, low, high) : null,
				Wording.decimal(low, decimals), Wording.decimal(high, decimals));
	}

	private static double x(double value, double low, double high) {
		double share = (value - low) / (high - low);
		return Math.round(WIDTH * Math.min(0.985, Math.max(0.015, share)) * 10) / 10.0;
	}

}
