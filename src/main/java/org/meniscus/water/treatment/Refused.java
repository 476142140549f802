package org.meniscus.water.treatment;

import java.util.List;

/**
 * No dose is worked out.
 *
 * @param reasons what is missing or wrong, as data
 * @param meanwhile what can be done without it
 */
public record Refused(Assessment assessment, List<Reason> reasons, List<Reason> meanwhile) implements Outcome {

	public Refused {
		reasons = List.copyOf(reasons);
		meanwhile = List.copyOf(meanwhile);
	}

}
