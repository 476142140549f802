/**
 * Pool water: chemistry, treatment, season. Plain Java on {@code java.base} only, without clock or I/O, so that the phone and
 * the server work out the same from the same code.
 */
@NullMarked
package org.meniscus.water;

import org.jspecify.annotations.NullMarked;
