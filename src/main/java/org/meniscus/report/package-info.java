/** What a homeowner gets to read of a visit: links that open it without an account, and the report behind them. */
@ApplicationModule(displayName = "Report", allowedDependencies = { "platform", "ui", "company", "client", "product", "visit", "season" })
@NullMarked
package org.meniscus.report;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
