package org.meniscus.route.web;

import java.util.Objects;
import java.util.UUID;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;

import org.jspecify.annotations.Nullable;
import org.meniscus.route.MissedReason;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;

/** Why a stop was not visited, as sent by the form. */
record MissedStopForm(@NotNull @Nullable Long version, @NotNull @Nullable MissedReason reason, @Size(max = 500) @Nullable String note) {

	static MissedStopForm of(StopLine stop) {
		return new MissedStopForm(stop.version(), stop.missedReason(), stop.missedNote());
	}

	/** Only after validation has passed. */
	RouteService.MarkMissed command(UUID stop) {
		return new RouteService.MarkMissed(new StopId(stop), Objects.requireNonNull(version), Objects.requireNonNull(reason), note);
	}

}
