/** What is on the truck and in the store: strength, package, label maximum, and what it cost from which day on. */
@ApplicationModule(displayName = "Products", allowedDependencies = { "platform", "ui", "company" })
@NullMarked
package org.meniscus.product;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
