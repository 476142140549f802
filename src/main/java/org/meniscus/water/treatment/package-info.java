/**
 * From readings to a plan: bounds of readings, products, targets, assessment, the plan with its order, gaps, caps and
 * cautions. Every flag and step carries its reason as data; texts live outside, under the codes named here.
 */
@NullMarked
package org.meniscus.water.treatment;

import org.jspecify.annotations.NullMarked;
