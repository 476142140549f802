package org.meniscus.water.drift;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;

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

	/** The level and end of its range expected to be left first: by median day, then by probability; for ordering pools. */
	public Optional<First> first() {
		return levels.values()
			.stream()
			.flatMap(level -> level.exits().entrySet().stream().map(at -> new First(level.level(), at.getKey(), at.getValue())))
			.min(Comparator.comparingLong((First first) -> (first.departure.day50() != null) ? first.departure.day50() : Long.MAX_VALUE)
				.thenComparing(Comparator.comparingDouble((First first) -> first.departure.probabilityBySeasonEnd()).reversed()));
	}

	public record First(Level level, RangeEnd side, LevelDrift.RangeExit departure) {
	}

}
