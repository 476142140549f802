package org.meniscus.client.web;

import java.math.BigDecimal;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolDimensions;
import org.meniscus.client.PoolShape;
import org.meniscus.client.PoolUnits;
import org.springframework.context.MessageSource;

/**
 * How a volume comes about, step by step in the company's units, so that it can be checked by hand.
 *
 * @param width how the mean width of a kidney comes about, else null
 * @param estimate whether the shape factor is a rule of thumb
 * @param difference how far the volume entered is from this one, in percent with its sign, when it is more than ten; else null
 */
record VolumeCalculation(String description, @Nullable String width, String depth, String area, String volume, String result,
		boolean estimate,
		@Nullable String difference) {

	private static final double DIFFERENCE_THRESHOLD = 0.10;

	static VolumeCalculation of(PoolDimensions measures, @Nullable BigDecimal entered, PoolUnits units, MessageSource texts,
			Locale locale) {
		boolean us = units == PoolUnits.US;
		String foot = us ? "ft" : "m";
		String length = PoolUnits.formatGrouped(measures.length() / units.metresPerLength(), 2);
		String meanWidth = PoolUnits.formatGrouped(measures.meanWidth() / units.metresPerLength(), 2);
		String depth = PoolUnits.formatGrouped(measures.averageDepth() / units.metresPerLength(), 3);
		String factor = PoolUnits.formatGrouped(measures.shape().factor(), 4);
		double area = measures.area() / units.squareMetresPerArea();
		double volume = measures.volumeLitres() / units.litresPerVolume();
		String result = us ? PoolUnits.formatGrouped(volume, (volume >= 1000) ? 0 : 1) + " gal"
				: PoolUnits.formatGrouped(volume, 2) + " m³";
		String width = null;
		Double narrow = measures.narrowWidth();
		if (measures.shape() == PoolShape.KIDNEY && narrow != null) {
			width = texts.getMessage("client.volumeCalculation.width",
					new Object[]{ PoolUnits.formatGrouped(measures.width() / units.metresPerLength(), 2),
							PoolUnits.formatGrouped(narrow / units.metresPerLength(), 2), meanWidth, foot },
					locale);
		}
		return new VolumeCalculation(texts.getMessage("client.volumeCalculation.formula." + measures.shape(), null, locale), width,
				texts.getMessage("client.volumeCalculation.depth",
						new Object[]{ PoolUnits.formatGrouped(measures.shallowDepth() / units.metresPerLength(), 2),
								PoolUnits.formatGrouped(measures.deepDepth() / units.metresPerLength(), 2), depth, foot },
						locale),
				PoolUnits.formatGrouped(area, 1) + (us ? " ft²" : " m²"),
				texts.getMessage(us ? "client.volumeCalculation.us" : "client.volumeCalculation.metric",
						new Object[]{ length, meanWidth, depth, factor,
								PoolUnits.formatGrouped(area * measures.averageDepth() / units.metresPerLength(), 1), result },
						locale),
				result, !measures.shape().exactFactor(), difference(entered, volume));
	}

	private static @Nullable String difference(@Nullable BigDecimal entered, double volume) {
		if (entered == null) {
			return null;
		}
		double share = entered.doubleValue() / volume - 1;
		if (Math.abs(share) <= DIFFERENCE_THRESHOLD) {
			return null;
		}
		return String.format(Locale.US, "%+.0f %%", 100 * share);
	}

}
