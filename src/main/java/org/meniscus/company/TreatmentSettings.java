package org.meniscus.company;

import java.time.LocalDate;
import java.time.MonthDay;
import java.time.temporal.ChronoUnit;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.pool.TestMethods;

/**
 * What a company has decided about its treatment plans.
 *
 * @param fcSwimCeiling highest FC in ppm at which it lets people swim, 1 to 10, both allowed
 * @param holdProbability probability with which FC shall still be above its minimum at the next visit, 0.5 to 0.99, both allowed
 * @param costs in minor units of its currency, each at most {@link #COST_MAX}
 * @param seasonEnd last day of its season in any year; null when its pools run all year
 * @param tests what it usually reads each level with
 */
public record TreatmentSettings(double fcSwimCeiling, double holdProbability, MinimumRule minimumRule, TreatmentCosts costs,
		@Nullable MonthDay seasonEnd, TestMethods tests) {

	public static final double CEILING_MIN = 1;

	public static final double CEILING_MAX = 10;

	public static final double PROBABILITY_MIN = 0.5;

	public static final double PROBABILITY_MAX = 0.99;

	public static final double COST_MAX = 1_000_000_000;

	/** As the treatment engine has it by default, where the sources stand; pools run all year. */
	public static final TreatmentSettings DEFAULTS = defaults(TreatmentPolicy.defaults());

	/** @throws IllegalArgumentException when a figure is outside what is said above */
	public TreatmentSettings {
		Objects.requireNonNull(minimumRule);
		Objects.requireNonNull(tests);
		checkRange(fcSwimCeiling, CEILING_MIN, CEILING_MAX);
		checkRange(holdProbability, PROBABILITY_MIN, PROBABILITY_MAX);
		checkRange(costs.waterPerM3(), 0, COST_MAX);
		checkRange(costs.drainLabor(), 0, COST_MAX);
		checkRange(costs.laborHour(), 0, COST_MAX);
	}

	/** With the usual tests. */
	public TreatmentSettings(double fcSwimCeiling, double holdProbability, MinimumRule minimumRule, TreatmentCosts costs,
			@Nullable MonthDay seasonEnd) {
		this(fcSwimCeiling, holdProbability, minimumRule, costs, seasonEnd, TestMethods.USUAL);
	}

	public TreatmentSettings withTests(TestMethods newTests) {
		return new TreatmentSettings(fcSwimCeiling, holdProbability, minimumRule, costs, seasonEnd, newTests);
	}

	private static TreatmentSettings defaults(TreatmentPolicy policy) {
		return new TreatmentSettings(policy.swimCeiling(), policy.holdProbability(), policy.minimumRule(), policy.costs(), null);
	}

	/** As the treatment engine takes it; what is not the company's to decide stays at its default. */
	public TreatmentPolicy policy() {
		return TreatmentPolicy.withCeiling(fcSwimCeiling).withHoldProbability(holdProbability).withMinimumRule(minimumRule)
			.withCosts(costs);
	}

	/** Days for which what goes in today counts: to the end of the season, and no further than pools that run all year are looked ahead. */
	public int horizonDays(LocalDate today) {
		if (seasonEnd == null) {
			return PoolForecast.SEASON_DAYS;
		}
		LocalDate thisYear = seasonEnd.atYear(today.getYear());
		LocalDate end = thisYear.isBefore(today) ? seasonEnd.atYear(today.getYear() + 1) : thisYear;
		return (int) Math.min(PoolForecast.SEASON_DAYS, ChronoUnit.DAYS.between(today, end));
	}

	private static void checkRange(double value, double min, double max) {
		if (!(value >= min && value <= max)) {
			throw new IllegalArgumentException(value + " is not from " + min + " to " + max);
		}
	}

}
