package org.meniscus.water.drift;

/**
 * What a particle filter reckons with beside the balance of mass. Without any of it, and with all particles alike, the filter is a Kalman
 * filter.
 *
 * @param processNoise standard deviation a day of a level that nothing explains, share of it
 * @param outlierShare of readings that have nothing to do with the level
 * @param switching whether leaks and unrecorded sources begin and end
 */
record NoiseModel(double processNoise, double outlierShare, boolean switching) {

	static final NoiseModel POOL = new NoiseModel(0.001, 0.02, true);

}
