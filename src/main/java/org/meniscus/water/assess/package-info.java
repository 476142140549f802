/** Readings against ranges and against what the record lets expect: what is out of range, by how much, and why. */
@NullMarked
package org.meniscus.water.assess;

import org.jspecify.annotations.NullMarked;
