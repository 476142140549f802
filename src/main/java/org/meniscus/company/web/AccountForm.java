package org.meniscus.company.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.RawPassword;

/** A change of one's own password. */
record AccountForm(@Nullable RawPassword old, @Nullable RawPassword password) {
}
