package org.meniscus.water.product;

import java.util.Objects;

/**
 * How long liquid chlorine has been kept, and where.
 *
 * @param labelStrength fraction in (0, 1] at delivery, in the product's basis
 * @param days since delivery, above zero
 */
public record ProductAge(double labelStrength, int days, StorageTemperature storage) {

	/** Of the strength at delivery; with less left than this what was worked out is no longer relied on. Common practice, no source. */
	private static final double RELIABLE_SHARE = 0.6;

	/** @throws IllegalArgumentException for a strength outside (0, 1] or days not above zero */
	public ProductAge {
		Objects.requireNonNull(storage);
		if (!(labelStrength > 0 && labelStrength <= 1) || days <= 0) {
			throw new IllegalArgumentException("not an age: " + labelStrength + " after " + days + " days");
		}
	}

	/** Fraction of the strength at delivery that is lost. @param strength now */
	public double lost(double strength) {
		return 1 - strength / this.labelStrength;
	}

	/** Whether the strength now is too uncertain to dose by without a test after. @param strength now */
	public boolean tooOld(double strength) {
		return strength < RELIABLE_SHARE * this.labelStrength;
	}

}
