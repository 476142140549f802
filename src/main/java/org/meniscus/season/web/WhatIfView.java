package org.meniscus.season.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.Option;

/**
 * What one might do about a pool's season.
 *
 * @param from day of the next visit, from which changes count
 * @param rows what goes on by itself, then each change
 * @param suggested null when nothing is suggested
 */
record WhatIfView(String from, List<ScenarioRow> rows, @Nullable ScenarioRow suggested, @Nullable String why, boolean unpriced,
		List<Option> chlorines,
		List<Integer> drains) {

	/**
	 * @param forecasts where the levels stand at the season's end and whether they leave their range, a sentence for each
	 * @param chart of the level that matters most
	 * @param costs null when the volume is not known
	 * @param workButton null where there is nothing to put on a visit's plan
	 */
	record ScenarioRow(String what, List<String> forecasts, @Nullable LevelChart chart, @Nullable ScenarioCostText costs,
			@Nullable WorkButton workButton) {
	}

	record ScenarioCostText(String chemicals, String water, String visits, String equipment, String total) {
	}

	/** What its button puts on the plan of the next visit. @param drain percent */
	record WorkButton(@Nullable Long drain, @Nullable String chlorine, UUID drainId, UUID chlorineId) {
	}

}
