package org.meniscus.water.pool;

import org.jspecify.annotations.Nullable;

/** The water a pool is topped up with; everything may be unknown. ppm as in {@link Level}; it carries no CYA. */
public record FillWater(@Nullable Double ph, @Nullable Double ta, @Nullable Double ch, @Nullable Double salt) {

	private static final FillWater UNKNOWN = new FillWater(null, null, null, null);

	public static FillWater unknown() {
		return UNKNOWN;
	}

	/** A level of the fill water; CYA is zero, others null when unknown. */
	public @Nullable Double value(Level level) {
		return switch (level) {
			case PH -> this.ph;
			case TA -> this.ta;
			case CH -> this.ch;
			case SALT, TDS -> this.salt;
			case CYA, BORATE, FC, CC -> Double.valueOf(0);
			default -> null;
		};
	}

}
