package org.meniscus.water.product;

/** What a company has decided about one of its products. */
public enum ProductPreference {

	/** The engine chooses by true cost. */
	NONE,
	/** Taken before any other wherever it is allowed. */
	FIRST,
	/** Never in a plan. */
	NEVER

}
