package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.UUID;

import jakarta.validation.constraints.NotNull;

import org.jspecify.annotations.Nullable;

/** Where a day's planned stops shall go, as sent by the form. */
record DayReassignmentForm(@NotNull @Nullable UUID to, @NotNull @Nullable LocalDate day) {
}
