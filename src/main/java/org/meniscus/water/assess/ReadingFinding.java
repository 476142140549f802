package org.meniscus.water.assess;

import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;

/**
 * Something about a reading as typed.
 *
 * @param level the field it stands beside
 * @param reason code and figures of the message
 */
public record ReadingFinding(Kind kind, Level level, Reason reason) {

	/** What a finding asks for. */
	public enum Kind {

		/** Refused: no water has this. */
		IMPOSSIBLE,
		/** Accepted once confirmed. */
		UNLIKELY,
		/** Two readings cannot both hold; accepted once confirmed. */
		CONTRADICTION

	}

}
