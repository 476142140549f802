package org.meniscus.company;

import java.time.Instant;

import org.jspecify.annotations.Nullable;

/**
 * One person as the owner of the company sees them.
 *
 * @param linkExpiresAt until when the last link sent to them can be used; absent when there is none
 */
public record PersonRecord(PersonSummary summary, long version, @Nullable Instant linkExpiresAt) {
}
