/** Clients and their pools: where they are, what they are made of, how to get in, what their water should be. */
@ApplicationModule(displayName = "Clients", allowedDependencies = { "platform", "ui", "company" })
@NullMarked
package org.meniscus.client;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
