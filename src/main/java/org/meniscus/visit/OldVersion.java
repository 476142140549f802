package org.meniscus.visit;

import java.time.Instant;

/**
 * A version that a correction replaced.
 *
 * @param body the row as it was, and its doses, as JSON by column name
 */
public record OldVersion(long version, Instant replacedAt, String replacedBy, String reason, String body) {
}
