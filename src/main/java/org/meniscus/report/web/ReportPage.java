package org.meniscus.report.web;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.LevelRule;

/**
 * The homeowner's page, in words.
 *
 * @param situation what was found besides, as a sentence; null for a routine visit
 * @param summary how the readings stand, as sentences
 * @param closed nobody may swim until a new test or look
 * @param swim when one may swim, as a headline
 * @param swimOnlyWhen what must hold besides
 * @param replaced share of the water that was replaced, as a sentence; null when none was
 * @param next day of the next visit; null when none is planned
 * @param followUps what the treatment has from today on, each day as a sentence
 * @param forecast where a slow level is heading, in one sentence; null when it stays
 */
record ReportPage(String company, String pool, String day, @Nullable String situation, List<String> summary, boolean closed,
		String swim,
		List<String> swimOnlyWhen, List<LevelLine> levels, List<AddedLine> added, @Nullable String replaced, List<String> tasks,
		@Nullable String note, int photos, @Nullable String next, List<String> followUps, @Nullable String forecast, String expires) {

	/**
	 * @param about what the level is for, in a few words
	 * @param rule null when the level has no range in this pool
	 * @param value as tested
	 */
	record LevelLine(String name, String about, @Nullable LevelRule rule, String value) {
	}

	/** @param why sentences: what asked for it, what it does */
	record AddedLine(String product, String amount, List<String> why) {
	}

}
