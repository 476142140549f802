@NullMarked
package org.meniscus.visit.web;

import org.jspecify.annotations.NullMarked;
