/** Pages of the incident log. */
@NullMarked
package org.meniscus.incident.web;

import org.jspecify.annotations.NullMarked;
