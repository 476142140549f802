package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.UUID;

import jakarta.validation.constraints.NotNull;

import org.jspecify.annotations.Nullable;

/** A stop beside the plans, as sent by the form; the id is made with the form, so that sending twice adds one. */
record ExtraStopForm(@NotNull @Nullable UUID id, @NotNull @Nullable UUID pool, @NotNull @Nullable UUID technician,
		@NotNull @Nullable LocalDate day) {
}
