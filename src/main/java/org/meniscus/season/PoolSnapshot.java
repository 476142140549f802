package org.meniscus.season;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.water.pool.Level;

/**
 * A pool as last assessed.
 *
 * @param assessedOn null when it never was
 * @param lastTechnician who was there last; null when nobody was
 * @param products names of what went in lately, the one used most often first
 */
public record PoolSnapshot(PoolId pool, String name, String client, @Nullable LocalDate assessedOn, @Nullable LocalDate lastVisitOn,
		@Nullable PersonId lastTechnician, List<String> products, List<LevelSnapshot> levels) {

	public PoolSnapshot {
		products = List.copyOf(products);
		levels = List.copyOf(levels);
	}

	public Optional<LevelSnapshot> level(Level level) {
		return levels.stream().filter(snapshot -> snapshot.level() == level).findFirst();
	}

	/** The level that is expected to leave its range first. */
	public Optional<LevelSnapshot> firstToExit() {
		return levels.stream().min(LevelSnapshot.EARLIEST_EXIT_FIRST);
	}

}
