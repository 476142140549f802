/** Stool, vomit, blood or an animal in the water: the log that public health guidance asks for, from stored visits. */
@ApplicationModule(displayName = "Incident", allowedDependencies = { "platform", "ui", "company", "client", "visit" })
@NullMarked
package org.meniscus.incident;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
