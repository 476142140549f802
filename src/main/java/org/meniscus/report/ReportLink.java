package org.meniscus.report;

import java.time.Instant;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * A link that was made, as the company sees it afterwards; the link itself is not kept.
 *
 * @param createdBy name of who made it
 * @param revokedAt when it was ended before its time; null when it was not
 */
public record ReportLink(UUID id, Instant createdAt, String createdBy, Instant expiresAt, @Nullable Instant revokedAt) {

	/** Whether it still opens, and if not, why. */
	public enum LinkState {

		OPEN, EXPIRED, REVOKED

	}

	public LinkState state(Instant now) {
		if (revokedAt != null) {
			return LinkState.REVOKED;
		}
		return now.isBefore(expiresAt) ? LinkState.OPEN : LinkState.EXPIRED;
	}

}
