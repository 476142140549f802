package org.meniscus.water.units;

/** A level expected on a day, ppm; its 80 % interval. @param day days since 1970-01-01 */
public record DatedBand(long day, Band band) {
}
