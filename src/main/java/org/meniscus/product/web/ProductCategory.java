package org.meniscus.product.web;

import org.meniscus.water.product.ActiveIngredient;

/** What a product is for: the headings of the list. */
enum ProductCategory {

	CHLORINE, OXIDIZER, ACID, ALKALI, HARDNESS, STABILIZER, SALT_AND_BORATE, ALGAE, BROMINE, CLARITY, METALS, REDUCER;

	static ProductCategory of(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case CALCIUM_HYPOCHLORITE, SODIUM_HYPOCHLORITE, DICHLOR, TRICHLOR -> CHLORINE;
			case MONOPERSULFATE -> OXIDIZER;
			case MURIATIC_ACID, DRY_ACID -> ACID;
			case SODA_ASH, BICARBONATE -> ALKALI;
			case CALCIUM_CHLORIDE -> HARDNESS;
			case CYANURIC_ACID -> STABILIZER;
			case SALT, BORIC_ACID, BORAX -> SALT_AND_BORATE;
			case QUAT_ALGAECIDE, POLYQUAT_ALGAECIDE, COPPER_ALGAECIDE -> ALGAE;
			case SODIUM_BROMIDE, BROMINE_TABLETS -> BROMINE;
			case CLARIFIER, FLOCCULANT, LANTHANUM, FILTER_MEDIA -> CLARITY;
			case SEQUESTRANT, ASCORBIC_ACID -> METALS;
			case THIOSULFATE, SULFITE -> REDUCER;
		};
	}

}
