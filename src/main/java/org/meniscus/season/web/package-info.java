@NullMarked
package org.meniscus.season.web;

import org.jspecify.annotations.NullMarked;
