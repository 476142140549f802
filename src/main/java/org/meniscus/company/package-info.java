/** Tenants, their people and roles, sign-in: who is asking and for which company. */
@ApplicationModule(displayName = "Company", allowedDependencies = { "platform", "ui" })
@NullMarked
package org.meniscus.company;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
