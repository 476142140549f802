/** What pages share: quantities in the company's units, the graduated rule of a level, choices of a form. */
@ApplicationModule(displayName = "Ui", type = ApplicationModule.Type.OPEN, allowedDependencies = {})
@NullMarked
package org.meniscus.ui;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
