@NullMarked
package org.meniscus.platform.web;

import org.jspecify.annotations.NullMarked;
