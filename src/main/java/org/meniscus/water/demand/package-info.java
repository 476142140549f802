/** What a pool does to its water between two visits: how it uses up chlorine and where its pH goes. */
@NullMarked
package org.meniscus.water.demand;

import org.jspecify.annotations.NullMarked;
