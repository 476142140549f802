/**
 * From an assessment to a treatment plan: which product, how much, in which order, what every level will be, when to swim, at
 * what cost.
 */
@NullMarked
package org.meniscus.water.plan;

import org.jspecify.annotations.NullMarked;
