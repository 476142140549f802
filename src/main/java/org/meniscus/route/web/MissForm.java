package org.meniscus.route.web;

import java.util.UUID;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.meniscus.route.MissedReason;
import org.meniscus.route.RouteBook;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;

/** Why a stop was not visited, as sent by the form. */
record MissForm(@NotNull @Nullable Long version, @NotNull @Nullable MissedReason reason, @Size(max = 500) @Nullable String note) {

	static MissForm of(StopLine stop) {
		return new MissForm(stop.version(), stop.missedReason(), stop.missedNote());
	}

	RouteBook.Miss command(UUID stop) {
		return new RouteBook.Miss(new StopId(stop), version, reason, note);
	}

}
