package org.meniscus.water.product;

/** What a person handling a product wears. */
public enum ProtectiveEquipment {

	/** Goggles or face shield, acid-proof gloves, stand upwind. */
	FACE_SHIELD,
	/** Goggles, rubber gloves, dry clothing, no dust; open a pail at arm's length outdoors. */
	DRY_CHLORINE,
	/** Goggles, gloves, dry clothing, no dust. */
	DUST,
	/** Goggles, gloves, no dust; the solution gets hot. */
	HEAT,
	/** Goggles, gloves. */
	GOGGLES,
	/** Gloves. */
	GLOVES,
	/** Gloves, mask. */
	MASK

}
