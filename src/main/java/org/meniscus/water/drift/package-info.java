/** Where the slow levels of a pool stand and where they go over a season: particle filter, daily balance, forecast, causes. */
@NullMarked
package org.meniscus.water.drift;

import org.jspecify.annotations.NullMarked;
