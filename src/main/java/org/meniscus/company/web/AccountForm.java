package org.meniscus.company.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.Secret;

/** A change of one's own password. */
record AccountForm(@Nullable Secret old, @Nullable Secret password) {
}
