/**
 * An invented company to look around in: its people, pools, route and a simulated season. Everything goes through the features'
 * own doors; nothing depends on this package.
 */
@ApplicationModule(displayName = "Demo", allowedDependencies = { "platform", "company", "client", "product", "visit", "route", "season" })
@NullMarked
package org.meniscus.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
