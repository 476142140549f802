package org.meniscus.water.season;

/** End of the acceptable range at which a level leaves it. */
public enum Side {

	LOW, HIGH

}
