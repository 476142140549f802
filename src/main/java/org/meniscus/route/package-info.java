/** Who visits which pool on which day in which order: service schedules, the week, the day. */
@ApplicationModule(displayName = "Route", allowedDependencies = { "platform", "ui", "company", "client", "visit" })
@NullMarked
package org.meniscus.route;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
