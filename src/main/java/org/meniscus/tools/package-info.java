/** Command-line tools that let anybody check the engine against tables of their own. */
@NullMarked
package org.meniscus.tools;

import org.jspecify.annotations.NullMarked;
