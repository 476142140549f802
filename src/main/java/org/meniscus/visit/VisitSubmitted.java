package org.meniscus.visit;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;

/** A visit has been stored for the first time; published inside its transaction. */
public record VisitSubmitted(CompanyId company, VisitId visit, PoolId pool, @Nullable UUID stop, LocalDate performedOn) {
}
