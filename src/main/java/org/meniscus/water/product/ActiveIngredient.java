package org.meniscus.water.product;

/** Active substance of a product as far as order, gaps and mixing go. */
public enum ActiveIngredient {

	CALCIUM_HYPOCHLORITE, SODIUM_HYPOCHLORITE, DICHLOR, TRICHLOR, MONOPERSULFATE, MURIATIC_ACID, DRY_ACID, SODA_ASH, BICARBONATE,
	CALCIUM_CHLORIDE, CYANURIC_ACID, SALT, BORIC_ACID, BORAX, QUAT_ALGAECIDE, POLYQUAT_ALGAECIDE, COPPER_ALGAECIDE,
	SODIUM_BROMIDE, CLARIFIER, FLOCCULANT, LANTHANUM, SEQUESTRANT, ASCORBIC_ACID, THIOSULFATE, SULFITE, BROMINE_TABLETS,
	FILTER_MEDIA;

	/** Gives free chlorine. */
	public boolean chlorine() {
		return this == CALCIUM_HYPOCHLORITE || this == SODIUM_HYPOCHLORITE || this == DICHLOR || this == TRICHLOR;
	}

	/** Takes free chlorine away, or makes bromine of it. */
	public boolean removesChlorine() {
		return this == ASCORBIC_ACID || this == THIOSULFATE || this == SULFITE || this == SODIUM_BROMIDE;
	}

	/** Chlorine that leaves cyanuric acid behind. */
	public boolean stabilizedChlorine() {
		return this == DICHLOR || this == TRICHLOR;
	}

	public boolean acid() {
		return this == MURIATIC_ACID || this == DRY_ACID;
	}

	public boolean alkali() {
		return this == SODA_ASH || this == BICARBONATE || this == BORAX;
	}

}
