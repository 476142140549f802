/** What the chemicals cost: by month, pool, client, technician and product, against what the client pays. */
@ApplicationModule(displayName = "Spend", allowedDependencies = { "platform", "ui", "company", "client", "product", "visit" })
@NullMarked
package org.meniscus.spend;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
