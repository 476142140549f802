/** Drift of the slow levels of a pool over a season: particle filter, daily balance, forecast ensemble, attribution to causes. */
@NullMarked
package org.meniscus.water.drift;

import org.jspecify.annotations.NullMarked;
