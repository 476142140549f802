package org.meniscus.season;

import java.util.Comparator;
import java.util.List;

/** A flag that stands at a pool. */
public record DriftNotice(PoolSnapshot pool, LevelSnapshot level) {

	/** Those that nobody has handled, whatever leaves its range first on top. */
	public static List<DriftNotice> open(List<PoolSnapshot> pools) {
		return of(pools).filter(notice -> notice.level().hasOpenNotice()).toList();
	}

	/** Those that the office has handled and whose flag still stands. */
	public static List<DriftNotice> dismissed(List<PoolSnapshot> pools) {
		return of(pools).filter(notice -> !notice.level().hasOpenNotice()).toList();
	}

	private static java.util.stream.Stream<DriftNotice> of(List<PoolSnapshot> pools) {
		return pools.stream()
			.flatMap(pool -> pool.levels().stream().filter(level -> level.flag() != null).map(level -> new DriftNotice(pool, level)))
			.sorted(Comparator.comparing(DriftNotice::level, LevelSnapshot.EARLIEST_EXIT_FIRST));
	}

}
