package org.meniscus.incident;

import org.meniscus.client.PoolSummary;
import org.meniscus.visit.VisitRecord;

/**
 * One incident of the log.
 *
 * @param visit the visit that found it
 * @param record what is written down besides
 * @param version of the record, 0 while there is none
 */
public record Incident(VisitRecord visit, PoolSummary pool, IncidentRecord record, long version) {
}
