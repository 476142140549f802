package org.meniscus.client;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;

/**
 * What is kept about a pool.
 *
 * @param name 1 to 120 characters
 * @param wasteValve whether water can be pumped to waste past the filter
 * @param equipment pump, filter, cell and the like
 * @param accessNotes gate code, key, dog; at most 2,000 characters
 * @param monthlyFeeCents minor units of the company's currency, not negative, or null when not recorded
 */
public record PoolDetails(ClientId client, String name, Place place, BodyOfWater body, Surface surface, boolean indoor,
		Sanitizer sanitizer, PoolSize size, boolean wasteValve, Equipment equipment, @Nullable String equipmentNotes,
		@Nullable String accessNotes, FillWater fill, @Nullable Integer monthlyFeeCents) {

	public static final int NAME_MAX = 120;

	public static final int EQUIPMENT_MAX = 4000;

	public static final int ACCESS_MAX = 2000;

	public static final int FEE_MAX = 100_000_000;

	/** @throws IllegalArgumentException when a text is too long or a figure out of range */
	public PoolDetails {
		name = TextNormalizer.singleLine(name);
		equipmentNotes = TextNormalizer.multiLineOrNull(equipmentNotes);
		accessNotes = TextNormalizer.multiLineOrNull(accessNotes);
		Preconditions.checkLength("name", name, 1, NAME_MAX);
		Preconditions.checkLength("equipment notes", equipmentNotes, 0, EQUIPMENT_MAX);
		Preconditions.checkLength("access notes", accessNotes, 0, ACCESS_MAX);
		Preconditions.checkRange("fill pH", fill.ph(), FillLimits.PH_MIN, FillLimits.PH_MAX);
		Preconditions.checkRange("fill TA", fill.ta(), 0, FillLimits.TA_MAX);
		Preconditions.checkRange("fill CH", fill.ch(), 0, FillLimits.CH_MAX);
		Preconditions.checkRange("fill salt", fill.salt(), 0, FillLimits.SALT_MAX);
		if (monthlyFeeCents != null && (monthlyFeeCents < 0 || monthlyFeeCents > FEE_MAX)) {
			throw new IllegalArgumentException("fee is " + monthlyFeeCents);
		}
	}

	PoolDetails withClient(ClientId client) {
		return new PoolDetails(client, name, place, body, surface, indoor, sanitizer, size, wasteValve, equipment, equipmentNotes,
				accessNotes, fill, monthlyFeeCents);
	}

	/** What fill water may be entered as: the bounds of readings. */
	public static final class FillLimits {

		public static final double PH_MIN = 4;

		public static final double PH_MAX = 10;

		public static final double TA_MAX = 600;

		public static final double CH_MAX = 3000;

		public static final double SALT_MAX = 40000;

		private FillLimits() {
		}

	}

}
