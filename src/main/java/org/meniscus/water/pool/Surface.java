package org.meniscus.water.pool;

/** What the water stands on; decides which products may touch it and how it may be drained. */
public enum Surface {

	PLASTER, PEBBLE, TILE, PAINTED, VINYL, FIBREGLASS,
	/** Above-ground or soft-sided wall with a liner; often small. */
	SOFT_SIDED;

	/** Cement-bound: soft water dissolves it, so calcium hardness matters. */
	public boolean cementBound() {
		return this == PLASTER || this == PEBBLE || this == TILE || this == PAINTED;
	}

	/** A sheet liner, bleached by undissolved chlorine and floated or shrunk by a full drain. */
	public boolean lined() {
		return this == VINYL || this == SOFT_SIDED;
	}

}
