/**
 * Equilibria of pool water and what reagents do to them. Levels are plain numbers in the units a test kit reads, named in the
 * Javadoc of each component; every constant has its source in docs/water-chemistry.md.
 */
@NullMarked
package org.meniscus.water.chemistry;

import org.jspecify.annotations.NullMarked;
