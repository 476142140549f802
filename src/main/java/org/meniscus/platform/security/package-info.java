@NullMarked
package org.meniscus.platform.security;

import org.jspecify.annotations.NullMarked;
