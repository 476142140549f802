@NullMarked
package org.meniscus.platform.database;

import org.jspecify.annotations.NullMarked;
