package org.meniscus.season.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * The pool page, formatted.
 *
 * @param volume null when nobody has said
 * @param trends how it uses up chlorine and where its pH goes, each as a sentence
 */
record PoolPage(UUID id, UUID client, String name, String clientName, String address, @Nullable String volume, String surface,
		String sanitizer, boolean indoor, String certainty, String body, String equipment, boolean archived,
		List<String> trends, List<LevelView> levels, List<VisitLine> visits) {

	/**
	 * One level.
	 *
	 * @param rule null when the pool is not assessed by this level
	 * @param chart null when it was never read
	 * @param reasons why a flag stands; empty when none does
	 * @param balance null where only a weekly drift is known
	 */
	record LevelView(String name, String code, String state, String today, String sentence,
			org.meniscus.ui.@Nullable LevelRule rule, @Nullable LevelChart chart, List<String> reasons, List<String> causes,
			@Nullable DriftBalance balance, List<String> remarks, List<ChartDataRow> readings, List<ChartDataRow> doses) {
	}

	/**
	 * What moved a level since a day, by cause; the lines add up to the sum as printed.
	 *
	 * @param unrecorded the band of what is not on the visit records, as a sentence
	 */
	record DriftBalance(String from, List<ChartDataRow> lines, String sum, String unrecorded) {
	}

	/** A line of the table beside a drawing. */
	record ChartDataRow(String day, String what, @Nullable String change) {
	}

	record VisitLine(UUID id, String day, String technician, String situation, String readings, String doses, int photos) {
	}

}
