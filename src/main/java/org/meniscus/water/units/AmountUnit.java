package org.meniscus.water.units;

/** In what an amount of a product is kept: grams of a solid, millilitres of a liquid. */
public enum AmountUnit {

	G, ML

}
