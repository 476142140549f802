package org.meniscus.water.drift;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;

/**
 * All levels of one pool as of a day.
 *
 * @param levels those that were read or have a range, of CYA, CH, SALT, TDS and BORATE
 * @param notes about the pool; those about a level stand with it
 */
public record SeasonDrift(long today, long seasonEnd, Map<Level, LevelDrift> levels, List<DriftNote> notes) {

	public SeasonDrift {
		levels = Map.copyOf(levels);
		notes = List.copyOf(notes);
	}

	public Optional<LevelDrift> level(Level level) {
		return Optional.ofNullable(levels.get(level));
	}

	/** The level expected to leave its range first: by median day, then by probability. */
	public Optional<Level> firstToExit() {
		return levels.values()
			.stream()
			.flatMap(drift -> drift.exits().values().stream().map(exit -> Map.entry(drift.level(), exit)))
			.min(Map.Entry.comparingByValue(
					Comparator.comparingLong((RangeExit exit) -> (exit.day50() != null) ? exit.day50() : Long.MAX_VALUE)
						.thenComparing(Comparator.comparingDouble(RangeExit::probabilityBySeasonEnd).reversed())))
			.map(Map.Entry::getKey);
	}

}
