package org.meniscus.water.plan;

import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.season.SeasonValue;

/**
 * A feeder, floater or cell that brings nothing for a while because the plan stops it, or because it cannot: what it would have brought is
 * not counted.
 *
 * @param share of what it would have brought until the next visit, from zero to below one
 * @param work when it is stopped and started again; null where the procedure of the situation says it
 */
record FeedStop(double share, @Nullable Reason work) {

	/** A cell is off while salt dissolves, days; common practice, no source. */
	private static final double SALT_DISSOLVES = 1;

	private static final double QUARTER_DAY = 0.25;

	/** It was off or is new: what it makes is not known from a test of today. */
	private static final Set<Situation> OFF_BEFORE = Set.of(Situation.CELL_START, Situation.OPENING, Situation.PUMP_OFF);

	/** Null where it runs on. @param request with a next visit */
	static @Nullable FeedStop of(PlanRequest request, Assessment assessment) {
		if (!request.pool().sanitizer().usesChlorine() || !PoolCondition.FED.holds(request, assessment)) {
			return null;
		}
		SituationProcedure procedure = SituationProcedures.of(request.situation(), request.pool());
		Set<SituationProcedure.Act> acts = procedure.acts(request, assessment);
		FeedStop tablets = request.pool().sanitizer().usesTablets() ? ofTablets(request, assessment) : null;
		if (tablets != null) {
			return tablets;
		}
		if (acts.contains(SituationProcedure.Act.CELL_OFF)) {
			return new FeedStop(0, null);
		}
		if (acts.contains(SituationProcedure.Act.FEED_DOWN)) {
			return PoolCondition.FC_TOO_HIGH.holds(request, assessment) ? untilFallen(request) : new FeedStop(0, null);
		}
		return (request.pool().sanitizer() == Sanitizer.SALT_CELL) ? ofCell(request, procedure) : null;
	}

	/** CYA from which tablets come out, ppm. @param request with a next visit and everything on */
	static double tabletCyaLimit(PlanRequest request) {
		int days = request.daysToNextVisit();
		return SeasonValue.tabletCyaCap(request.pool(), request.policy(),
				request.forecast().withTabletsAdded(0, days).demand().expected(request.policy().fcCeiling(), days));
	}

	/** Why no more of what brings stabilizer goes in, and what becomes of a feeder that runs on. @param cya ppm */
	static Reason againstStabilized(PlanRequest request, @Nullable FeedStop stop, double cya) {
		boolean on = request.pool().sanitizer().usesTablets() && request.pool().body() == BodyOfWater.POOL && stop == null;
		return on ? Reason.of("not.stabilized-by-hand", Term.of(Level.CYA, cya), Term.of(Level.CYA, tabletCyaLimit(request)))
				: Reason.of("not.stabilized", Term.of(Level.CYA, cya));
	}

	/**
	 * What is known of the time ahead as the plan leaves the feed. FC below what is to be held shows that it made no more than is used up at
	 * that FC, whatever it is rated for or set to.
	 */
	static PoolForecast forecast(PlanRequest request, Assessment assessment, @Nullable FeedStop stop) {
		PoolForecast forecast = request.forecast();
		ChlorineDemand rated = forecast.demand();
		Double fc = request.readings().fc();
		if (fc != null && rated.supply() > 0 && feedsTooLittle(request, assessment)) {
			double shown = Math.min(1, rated.use(fc).middle() / rated.supply());
			// How far off it may be is known no better than before.
			forecast = forecast.withFeed(shown).withDemand(rated.withSupply(shown * rated.supply()));
		}
		return (stop == null) ? forecast : forecast.withFeed(stop.share());
	}

	/** Whether a cell, or a feeder that others fill, was on and did not hold FC. */
	static boolean feedsTooLittle(PlanRequest request, Assessment assessment) {
		return (request.pool().sanitizer() == Sanitizer.SALT_CELL || request.pool().sanitizer() == Sanitizer.TABLET_FEEDER)
				&& request.forecast().tablets() == null && !OFF_BEFORE.contains(request.situation())
				&& PoolCondition.FC_LOW.holds(request, assessment);
	}

	/** On until the plan's own limits let tablets in again. */
	private static @Nullable FeedStop ofTablets(PlanRequest request, Assessment assessment) {
		if (floaterMarks(request.pool())) {
			return new FeedStop(0, null);
		}
		Readings readings = request.effectiveReadings();
		Double cya = readings.cya();
		double limit = tabletCyaLimit(request);
		if (cya != null && cya >= limit) {
			boolean floater = request.pool().sanitizer() == Sanitizer.FLOATER;
			String code = floater ? "work.floater-empty" : "work.feeder-empty";
			return new FeedStop(0, request.pool().indoor() ? Reason.of(code + "-indoor")
					: Reason.of(code, Term.of(Level.CYA, cya), Term.of(Level.CYA, limit)));
		}
		Range alkalinity = request.pool().targets().range(Level.TA);
		Range acidity = request.pool().targets().range(Level.PH);
		return (alkalinity != null && acidity != null && PoolCondition.TABLETS_ATE_ALKALINITY.holds(request, assessment))
				? new FeedStop(0, Reason.of("work.tablets-out-ta", Term.of(Level.TA, alkalinity.idealLow()),
						Term.of(Level.PH, acidity.idealLow())))
				: null;
	}

	/** Until FC is what people may swim in, then on to bring no more than is used up there. */
	private static FeedStop untilFallen(PlanRequest request) {
		Double fc = request.readings().fc();
		double ceiling = request.policy().swimCeiling();
		ChlorineDemand demand = request.forecast().demand();
		double next = request.daysToNextVisit();
		double days = 0;
		while (fc != null && days < next && demand.withSupply(0).expected(fc, days) > ceiling) {
			days += QUARTER_DAY;
		}
		double lower = (demand.supply() > 0) ? Math.min(1, demand.use(ceiling).middle() / demand.supply()) : 1;
		return new FeedStop(Math.max(0, 1 - days / next) * lower,
				Reason.of("work.feed-on-again", Term.of(Level.FC, ceiling), word("on", request.pool())));
	}

	/** A tablet that drifts against the wall marks it. */
	static boolean floaterMarks(PoolFacts pool) {
		return pool.sanitizer() == Sanitizer.FLOATER && ProductKind.TRICHLOR_TAB.avoid().contains(pool.surface());
	}

	/** What is done to what feeds this pool. @param what off or on */
	static Term word(String what, PoolFacts pool) {
		return new Term.Word("water.feed." + what + "." + pool.sanitizer().name());
	}

	/** Below its range of salt a cell makes little or nothing. */
	private static @Nullable FeedStop ofCell(PlanRequest request, SituationProcedure procedure) {
		Double salt = request.readings().salt();
		Range range = request.pool().targets().range(Level.SALT);
		if (salt == null || range == null || request.situation() == Situation.CLOSING) {
			return null;
		}
		boolean raised = salt < range.halfwayLow() && procedure.balanceWaits() == null && request.products()
			.stream()
			.anyMatch(product -> product.onTruck() && product.kind().ingredient() == ActiveIngredient.SALT);
		if (raised) {
			return new FeedStop(Math.max(0, 1 - SALT_DISSOLVES / request.daysToNextVisit()), null);
		}
		return (salt < range.acceptableLow() - 1e-9)
				? new FeedStop(0, Reason.of("work.cell-salt-low", Term.of(Level.SALT, salt), Term.of(Level.SALT, range.acceptableLow())))
				: null;
	}

	/** Whether it brings nothing until the next visit. */
	boolean lasts() {
		return this.share <= 0;
	}

}
