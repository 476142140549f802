package org.meniscus.season.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * One pool on the season page.
 *
 * @param state code under {@code level.state.*}
 * @param sentence about the level that is most urgent
 * @param others other levels that are not in range, in words
 * @param technician who was there last; null when nobody was yet
 */
record SeasonRow(UUID pool, String name, String client, String state, String sentence, @Nullable LevelChart picture,
		List<String> others, @Nullable String technician) {
}
