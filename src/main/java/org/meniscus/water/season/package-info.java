/**
 * The year ahead of one pool as a decision process (Bellman 1957): what the stabilizer and hardness that a visit leaves behind are worth,
 * solved backward over the weeks of a year that repeats.
 */
@NullMarked
package org.meniscus.water.season;

import org.jspecify.annotations.NullMarked;
