/** What every feature stands on: who is asking and for which company, ids, clock, database, web conventions. */
@ApplicationModule(displayName = "Platform", type = ApplicationModule.Type.OPEN)
@NullMarked
package org.meniscus.platform;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
