@NullMarked
package org.meniscus;

import org.jspecify.annotations.NullMarked;
