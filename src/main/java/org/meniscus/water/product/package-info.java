/**
 * What goes into the water: kinds of products, their active ingredients, what must never be mixed, amounts as measured out,
 * effects of a dose.
 */
@NullMarked
package org.meniscus.water.product;

import org.jspecify.annotations.NullMarked;
