/** Quantities and the numerics that everything else stands on: volume, mass, temperature, intervals, the normal distribution. */
@NullMarked
package org.meniscus.water.units;

import org.jspecify.annotations.NullMarked;
