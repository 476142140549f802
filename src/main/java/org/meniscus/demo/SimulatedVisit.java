package org.meniscus.demo;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;

/**
 * One visit of an invented season.
 *
 * @param extra beside the weekly plan, to look after a treatment
 * @param waterReplaced share of the water drained and filled anew, 0 to 1, null when none was
 * @param tasks codes of the work done
 * @param toClient key of a note, null when there is none
 * @param toOffice key of a note, null when there is none
 */
record SimulatedVisit(LocalDate day, boolean extra, Situation situation, Readings readings, List<SimulatedDose> doses,
		@Nullable Double waterReplaced, List<String> tasks, @Nullable String toClient, @Nullable String toOffice) {

	/** @param amount grams or millilitres */
	record SimulatedDose(ProductKind kind, double amount) {
	}

}
