package org.meniscus.company.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.Secret;

/** The password somebody chooses by a link. */
record JoinForm(@Nullable Secret password) {
}
