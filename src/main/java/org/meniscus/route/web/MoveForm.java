package org.meniscus.route.web;

import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.PersonId;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;

/** Where a stop shall go, as sent by a form or by dragging. */
record MoveForm(@NotNull @Nullable Long version, @NotNull @Nullable UUID technician, @NotNull @Nullable LocalDate day,
		@Min(1) @Max(200) @Nullable Integer place) {

	static MoveForm of(StopLine stop) {
		return new MoveForm(stop.version(), stop.technician().value(), stop.plannedOn(), null);
	}

	/** Only after validation has passed. */
	RouteService.MoveStop command(UUID stop) {
		return new RouteService.MoveStop(new StopId(stop), Objects.requireNonNull(version),
				new PersonId(Objects.requireNonNull(technician)),
				Objects.requireNonNull(day), place);
	}

}
