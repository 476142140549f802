/**
 * Pool water. Plain Java on {@code java.base} only, without clock or I/O, so that the phone and the server work out the same from
 * the same code. Packages use only those before them: units, pool, chemistry, product, demand, explain, assess, plan, drift.
 */
@NullMarked
package org.meniscus.water;

import org.jspecify.annotations.NullMarked;
