package org.meniscus.report;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanySettings;
import org.meniscus.visit.DatedFollowUp;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.units.AmountUnit;

/**
 * A visit as its homeowner may know it. Access notes, prices, people, notes for the office and other visits are not in here, so
 * no page made of it can show them.
 *
 * @param language of the client's reports, "en" or "es"
 * @param assessment of the readings at the visit
 * @param waterReplaced share of the water, 0 to 1; null when none was
 * @param swim when people may swim, as it was stored with the visit
 * @param swimReadyAt from when on by the clock; null when nothing asks for waiting, and when only a new test or look can tell
 * @param tasks codes under {@code visit.task.*}
 * @param photos how many there are, numbered from 0
 * @param next day of the next planned visit; null when none is planned
 * @param followUps what the plan that is being followed has from today on, in time order
 * @param expectedExit a slow level that is on its way out of its range; null when none is known to be
 * @param expiresAt when the link that led here stops opening
 */
public record Report(CompanySettings company, String poolName, String language, Instant performedAt, LocalDate performedOn,
		Situation situation, Readings readings, Assessment assessment, @Nullable Double waterReplaced, List<AddedProduct> added,
		SwimReadiness swim, @Nullable Instant swimReadyAt,
		List<String> tasks, @Nullable String note, int photos, @Nullable LocalDate next, List<DatedFollowUp> followUps,
		@Nullable ExpectedExit expectedExit, Instant expiresAt) {

	public Report {
		added = List.copyOf(added);
		tasks = List.copyOf(tasks);
		followUps = List.copyOf(followUps);
	}

	/** @param amount grams or millilitres */
	public record AddedProduct(String product, double amount, AmountUnit unit, DoseReason reason) {
	}

	/**
	 * Expected if nobody intervenes.
	 *
	 * @param limit the end of the acceptable range it is heading for
	 * @param day about when it gets there
	 * @param early,late within which it gets there four times in five; late null when not in the time looked ahead
	 */
	public record ExpectedExit(Level level, boolean rising, double limit, LocalDate day, LocalDate early, @Nullable LocalDate late) {
	}

}
