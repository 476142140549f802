package org.meniscus.water.plan;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;
import org.meniscus.water.units.Band;

/**
 * What is to be expected once the plan is done. Bands hold four times in five (80 %): they take in what tests, the volume on record
 * and the pool's own ways leave open.
 *
 * @param justAfter of each level that the plan moves, in the level's unit
 * @param days until the next visit; zero: not known, then nothing is said of it
 * @param nextVisit of each known level at the next visit
 * @param holdProbability that FC is then at least the minimum; null when no next visit is known or the pool is not kept on chlorine
 * @param suggestions what would hold chlorine until then where today's dose alone does not; empty when it does
 */
public record ExpectedOutcome(Map<Level, Band> justAfter, int days, Map<Level, Band> nextVisit, @Nullable Double holdProbability,
		List<Reason> suggestions) {

	public ExpectedOutcome {
		justAfter = copy(justAfter);
		nextVisit = copy(nextVisit);
		suggestions = List.copyOf(suggestions);
	}

	private static Map<Level, Band> copy(Map<Level, Band> bands) {
		Map<Level, Band> copy = new EnumMap<>(Level.class);
		copy.putAll(bands);
		return Collections.unmodifiableMap(copy);
	}

}
