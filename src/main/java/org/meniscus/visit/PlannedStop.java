package org.meniscus.visit;

import java.time.LocalDate;
import java.util.UUID;

import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;

/** A stop on somebody's route. */
public record PlannedStop(UUID id, PoolId pool, PersonId technician, LocalDate plannedOn) {
}
