/** Stops at a pool as they happened: what was measured, what was advised, what was put in. Facts; corrected only by a new version. */
@ApplicationModule(displayName = "Visit", allowedDependencies = { "platform", "ui", "company", "client", "product" })
@NullMarked
package org.meniscus.visit;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
