/** Where each pool's levels stand and where they are heading over the season; everything here is worked out from visits. */
@ApplicationModule(displayName = "Season", allowedDependencies = { "platform", "ui", "company", "client", "product", "visit" })
@NullMarked
package org.meniscus.season;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
