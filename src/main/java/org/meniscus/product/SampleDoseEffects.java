package org.meniscus.product;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.units.Temperature;

/**
 * What a given amount of a product does to a given volume: by stoichiometry for the levels, by equilibrium for pH, which is given
 * for {@link #SAMPLE_WATER} because it depends on the whole water.
 *
 * @param freeChlorine ppm FC it brings; 0 when it brings none
 * @param lasting what is left of it in the water for good, once chlorine it brought is used up; only levels that move, in ppm
 * @param phAfter pH of the sample water just after it is mixed in
 * @param phAfterChlorineSpent pH once the chlorine it brought is used up; null when it brought none
 */
public record SampleDoseEffects(double freeChlorine, Map<Level, Double> lasting, double phAfter, @Nullable Double phAfterChlorineSpent) {

	/** An ordinary outdoor pool, levels in ppm, 27 °C. An example, no recommendation. */
	public static final Water SAMPLE_WATER = Water.of(7.5, 100, 300, 40, 3, 1000, 0, Temperature.ofCelsius(27));

	/** Below this a change is not worth a word, ppm. */
	private static final double NEGLIGIBLE_PPM = 0.005;

	public SampleDoseEffects {
		Map<Level, Double> copy = new EnumMap<>(Level.class);
		copy.putAll(lasting);
		lasting = Collections.unmodifiableMap(copy);
	}

	/**
	 * @param amount grams or millilitres
	 * @return empty when the engine works out nothing for this product, or its strength is not known
	 */
	public static Optional<SampleDoseEffects> of(Product product, double amount, double litres) {
		if (!ProductEffects.computable(product)) {
			return Optional.empty();
		}
		boolean chlorine = product.kind().ingredient().chlorine();
		double brought = chlorine ? ProductEffects.concentration(product, amount, litres) : 0;
		Water after = ProductEffects.after(SAMPLE_WATER, product, amount, litres);
		Map<Level, Double> lasting = new EnumMap<>(Level.class);
		ProductEffects.lasting(product, amount, litres).forEach((level, change) -> {
			if (Math.abs(change) >= NEGLIGIBLE_PPM) {
				lasting.put(level, change);
			}
		});
		return Optional
			.of(new SampleDoseEffects(brought, lasting, after.ph(), chlorine ? Dosing.spendChlorine(after, brought).ph() : null));
	}

}
