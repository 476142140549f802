/** Reasons as data (a code with its figures) and how they become a sentence in the reader's units and language. */
@NullMarked
package org.meniscus.water.explain;

import org.jspecify.annotations.NullMarked;
