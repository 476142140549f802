/**
 * Where each level of a pool is heading over a season, from readings and from what was recorded as put in. The question and
 * the answer are plain records, so that another way of estimating can take the place of the one that stands here.
 */
@NullMarked
package org.meniscus.water.season;

import org.jspecify.annotations.NullMarked;
