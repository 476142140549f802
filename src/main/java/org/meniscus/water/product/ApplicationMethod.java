package org.meniscus.water.product;

/** How a product goes into the water. */
public enum ApplicationMethod {

	/** Low and slow along the deep end or at a return. */
	POUR_AT_RETURN,
	/** As the label says: dissolved in a bucket of water first, or broadcast and brushed; never in the skimmer. */
	BUCKET_OR_BROADCAST,
	/** Broadcast dry over the deep end and brushed; not mixed beforehand. */
	BROADCAST_DRY,
	/** Feeder or floater only; never the skimmer, never thrown in. */
	FEEDER,
	/** A little on spots, only where the label allows. */
	SPOT,
	/** Broadcast over the deep end, brushed. */
	BROADCAST,
	/** Diluted into a bucket of pool water (product into water) or poured slowly at the deep end, away from wall, light, steps. */
	POUR_DILUTED,
	/** Dissolved in a bucket of water (product into water), then poured round the deep end. */
	DISSOLVE,
	/** In a sock before a return or in the skimmer basket, pump running 24 h. */
	SOCK,
	/** At the skimmer or a return with the pump on. */
	POUR_AT_SKIMMER,
	/** Round the edge with the pump on. */
	POUR_AT_EDGE,
	/** Recirculated, then pump off overnight, then vacuumed to waste. */
	SETTLE,
	/** Dissolved; a part of the worked-out amount, then a test. */
	IN_PARTS,
	/** As a slurry at the skimmer. */
	SLURRY,
	/** Nothing but the label's own way. */
	AS_LABEL

}
