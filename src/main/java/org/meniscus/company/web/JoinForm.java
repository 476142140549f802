package org.meniscus.company.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.RawPassword;

/** The password somebody chooses by a link. */
record JoinForm(@Nullable RawPassword password) {
}
