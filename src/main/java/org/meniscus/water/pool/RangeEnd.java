package org.meniscus.water.pool;

/** End of the acceptable range at which a level leaves it. */
public enum RangeEnd {

	LOW, HIGH

}
