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
record WhatIfView(String from, List<Row> rows, @Nullable Row suggested, @Nullable String why, boolean unpriced, List<Option> chlorines,
		List<Integer> drains) {

	/**
	 * @param leads where the levels stand at the season's end and whether they leave their range, a sentence for each
	 * @param picture of the level that matters most
	 * @param costs null when the volume is not known
	 * @param plan null where there is nothing to put on a visit's plan
	 */
	record Row(String what, List<String> leads, @Nullable LevelChart picture, @Nullable Costs costs, @Nullable Plan plan) {
	}

	record Costs(String chemicals, String water, String visits, String equipment, String total) {
	}

	/** What its button puts on the plan of the next visit. @param drain percent */
	record Plan(@Nullable Long drain, @Nullable String chlorine, UUID drainId, UUID chlorineId) {
	}

}
