package org.meniscus.season;

import java.util.Comparator;
import java.util.List;

/** A flag that stands at a pool. */
public record Notice(KeptPool pool, KeptLevel level) {

	/** Those that nobody has handled, whatever leaves its range first on top. */
	public static List<Notice> standing(List<KeptPool> pools) {
		return of(pools).filter(notice -> notice.level().notice()).toList();
	}

	/** Those that the office has handled and whose flag still stands. */
	public static List<Notice> handled(List<KeptPool> pools) {
		return of(pools).filter(notice -> !notice.level().notice()).toList();
	}

	private static java.util.stream.Stream<Notice> of(List<KeptPool> pools) {
		return pools.stream()
			.flatMap(pool -> pool.levels().stream().filter(level -> level.flag() != null).map(level -> new Notice(pool, level)))
			.sorted(Comparator.comparing(Notice::level, KeptLevel.FIRST_TO_LEAVE));
	}

}
