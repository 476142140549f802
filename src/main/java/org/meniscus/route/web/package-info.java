@NullMarked
package org.meniscus.route.web;

import org.jspecify.annotations.NullMarked;
