package org.meniscus.water.drift;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Range;

/**
 * Everything that is asked with about one level of one pool.
 *
 * @param today the day to speak about; later observations and inputs are left out
 * @param seasonEnd how far ahead an exit is looked for
 * @param limits null when the pool has no range for this level: then only the level and its drift are told
 * @param persistence whether what is put in stays
 */
public record SeasonQuestion(long today, long seasonEnd, List<Observation> observations, List<KnownInput> inputs,
		@Nullable Range limits, TestError error, Persistence persistence) {

	/** How long an input lasts in the water. */
	public enum Persistence {

		/** Stays until water leaves: CYA, CH, salt, borate, TA. The trend is what the records do not explain. */
		LASTING,
		/** Used up or drifting back within a visit: FC, pH. Readings are levels as found; the newest one decides the state. */
		PASSING

	}

	public SeasonQuestion {
		observations = List.copyOf(observations);
		inputs = List.copyOf(inputs);
		if (seasonEnd < today) {
			throw new IllegalArgumentException("season ends before today");
		}
	}

}
