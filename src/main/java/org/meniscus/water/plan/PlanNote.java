package org.meniscus.water.plan;

import java.util.Objects;

import org.meniscus.water.explain.Reason;

/** Something to be told with a plan, and what it is about. */
public record PlanNote(Topic topic, Reason reason) {

	/** What a note is about. */
	public enum Topic {

		/** Today's water and what is done about it. */
		TODAY,
		/** What was taken from the records of earlier visits. */
		EARLIER_VISITS,
		/** That FC is not expected to last until the next visit. */
		RESIDUAL_NOT_HELD

	}

	public PlanNote {
		Objects.requireNonNull(topic);
		Objects.requireNonNull(reason);
	}

	static PlanNote today(Reason reason) {
		return new PlanNote(Topic.TODAY, reason);
	}

	static PlanNote earlierVisits(Reason reason) {
		return new PlanNote(Topic.EARLIER_VISITS, reason);
	}

}
