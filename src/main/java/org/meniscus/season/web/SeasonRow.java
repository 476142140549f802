package org.meniscus.season.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * One pool on the season page.
 *
 * @param state code under {@code level.state.*}
 * @param day on which it is expected to leave its range, with the interval
 * @param sentence about the level that leaves first
 * @param chart null when that level was never read
 * @param flag key of what is said of the standing flag; null when none stands
 * @param reasons why it stands
 * @param others other levels that are flagged or out of range, in words
 * @param technician who was there last; null when nobody was yet
 */
record SeasonRow(UUID pool, String name, String client, String state, String day, String sentence, @Nullable LevelChart chart,
		@Nullable String flag, List<String> reasons, List<String> others, @Nullable String technician) {
}
