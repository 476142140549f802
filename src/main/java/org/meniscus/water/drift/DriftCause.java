package org.meniscus.water.drift;

import org.meniscus.water.product.DoseKind;

/** What moved a level since the season's start; in the order in which causes are shown. */
public enum DriftCause {

	/** Recorded trichlor. */
	TABLETS,
	/** Recorded dichlor. */
	DICHLOR,
	/** Recorded calcium hypochlorite. */
	CALCIUM_HYPOCHLORITE,
	/** Recorded calcium chloride. */
	CALCIUM_CHLORIDE,
	/** Recorded cyanuric acid. */
	STABILIZER,
	/** Every other recorded product. */
	OTHER_PRODUCTS,
	/** What came in with the fill water, that of recorded drains included; hardness left behind by evaporation is in here. */
	FILL_WATER,
	/** Water that went out: rain overflow, splash-out, backwash, recorded drains. Never above 0. */
	DILUTION,
	/** Stabilizer broken down in the water. */
	BREAKDOWN,
	/** Calcium given off by new plaster, less what fell out as scale. */
	PLASTER_AND_SCALE,
	/**
	 * Not on the visit records: what the readings ask for beyond everything above, such as a floater the homeowner fills, an unrecorded
	 * dose, or (below 0) a leak or an unrecorded drain.
	 */
	UNRECORDED;

	static DriftCause of(DoseKind kind) {
		return switch (kind) {
			case TABLETS -> TABLETS;
			case DICHLOR -> DICHLOR;
			case CALCIUM_HYPOCHLORITE -> CALCIUM_HYPOCHLORITE;
			case CALCIUM_CHLORIDE -> CALCIUM_CHLORIDE;
			case STABILIZER -> STABILIZER;
			default -> OTHER_PRODUCTS;
		};
	}

}
