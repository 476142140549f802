package org.meniscus.spend;

/** A way to cut the same doses into parts. */
public enum SpendBreakdown {

	MONTH, POOL, CLIENT, TECHNICIAN, PRODUCT;

	/** As it stands in an address. */
	public String urlValue() {
		return name().toLowerCase(java.util.Locale.ROOT);
	}

}
