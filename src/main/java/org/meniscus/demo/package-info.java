/**
 * An invented company to look around in: its people, pools, route and a simulated season. Everything goes through the features'
 * own doors; nothing depends on this package. Towns and companies are made-up words that, from memory, nobody bears; postcodes begin
 * with 000, which the United States have not given out (from memory); telephone numbers are 555-01xx, kept free for fiction; mail
 * goes to the reserved domain example (RFC 2606).
 */
@ApplicationModule(displayName = "Demo", allowedDependencies = { "platform", "company", "client", "product", "visit", "route", "season" })
@NullMarked
package org.meniscus.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
