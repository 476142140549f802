package org.meniscus.water.plan;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ShockLevel;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.season.SeasonValue;

/**
 * What all candidates for one plan have in common.
 *
 * @param effectiveReadings today's, with slow levels of earlier visits: what the water is taken to be
 * @param water before anything goes in
 * @param shock FC to kill with; null where none is called for
 * @param shockLater the same once a sequestrant has worked; null where none is called for or none has to wait
 * @param recommendation whether water has to be replaced
 * @param tabletSupply without tablets of today
 * @param feedStop feeder, floater or cell that brings nothing for a while, taken out of the forecast of the request; null where it runs on
 * @param season what CYA and CH are worth in the time ahead; null where no season prices them
 */
record PlanContext(PlanRequest request, Assessment assessment, Readings effectiveReadings, double litres, PoolWater water,
		@Nullable ShockLevel shock, @Nullable ShockLevel shockLater, WaterReplacement.Recommendation recommendation,
		Contraindications contraindications,
		TabletSupply tabletSupply, PriceList prices, @Nullable FeedStop feedStop, @Nullable SeasonValue season) {

	/** PH below which metal and cement suffer; common practice, no source. */
	static final double PH_CORROSIVE = 7.0;

	static PlanContext of(PlanRequest asked, PoolWater water, double litres) {
		Readings effectiveReadings = asked.effectiveReadings();
		Assessment assessment = Assessment.of(asked.pool(), effectiveReadings, asked.policy());
		FeedStop feedStop = FeedStop.of(asked, assessment);
		PlanRequest request = asked.withForecast(FeedStop.forecast(asked, assessment, feedStop));
		SituationProcedure procedure = SituationProcedures.of(request.situation(), request.pool());
		Contraindications contraindications = Contraindications.of(request, assessment, feedStop);
		ShockLevel shock = request.pool().sanitizer().usesChlorine() ? procedure.shock(request, assessment) : null;
		if (shock == null && (shockForAmmonia(request, assessment)
				|| shockForCombined(request, assessment, procedure, water, contraindications))) {
			shock = ShockLevel.LIGHT;
		}
		PriceList prices = new PriceList(request.products(), litres);
		// What goes into a pool that leaks leaves with its water.
		SeasonValue season = (request.situation() == Situation.LEAK_SUSPECTED) ? null
				: SeasonValue.of(request.pool(), request.policy(), prices, asked.forecast(), water.water(), request.daysToNextVisit());
		WaterReplacement.Recommendation recommendation = WaterReplacement.recommend(request, assessment, water, litres, season);
		// Tablets would go on dissolving into the new water.
		Product tablets = (recommendation.replacement() != null) ? null : tablets(request, water, contraindications);
		boolean metal = PoolCondition.METAL_TO_HOLD.holds(request, assessment);
		// Nothing holds metal in water that is replaced: much chlorine waits for the new water.
		boolean replaced = recommendation.replacement() != null;
		boolean waits = metal && !(replaced && request.situation().growth());
		return new PlanContext(request, assessment, effectiveReadings, litres, water, waits ? null : shock,
				(waits && !replaced) ? shock : null,
				recommendation, contraindications,
				TabletSupply.of(request, assessment, tablets, litres), prices, feedStop, season);
	}

	/** Chlorine does not stay before the ammonia is gone. */
	private static boolean shockForAmmonia(PlanRequest request, Assessment assessment) {
		return PoolCondition.AMMONIA_PRESENT.holds(request, assessment) && !request.situation().chlorineWaits()
				&& request.situation() != Situation.NEW_PLASTER;
	}

	/** High CC that no procedure of its own answers takes superchlorination where the oxidizer is not along or FC is low as well. */
	private static boolean shockForCombined(PlanRequest request, Assessment assessment, SituationProcedure procedure, PoolWater water,
			Contraindications contraindications) {
		Situation situation = request.situation();
		return procedure.shockLevel() == null && !situation.metal() && situation != Situation.NEW_PLASTER
				&& PoolCondition.COMBINED_HIGH.holds(request, assessment)
				&& (PoolCondition.FC_LOW.holds(request, assessment)
						|| new ProductSelector(request, false, contraindications, ProductSelector.ProductAssignment.UNASSIGNED)
							.allowed(Step.Purpose.OXIDIZE, water)
							.isEmpty());
	}

	/** That may go into floater or feeder; null where none may, or where the plan does not decide on them. */
	private static @Nullable Product tablets(PlanRequest request, PoolWater water, Contraindications contraindications) {
		if (request.forecast().tablets() == null || request.daysToNextVisit() == 0 || request.situation().chlorineWaits()) {
			return null;
		}
		List<ProductSelector.RankedProduct> allowed = new ProductSelector(request, false, contraindications,
				ProductSelector.ProductAssignment.UNASSIGNED)
			.allowed(Step.Purpose.FEED, water);
		return allowed.isEmpty() ? null : allowed.get(0).product();
	}

	ProductSelector selector(ProductSelector.ProductAssignment assignment) {
		return new ProductSelector(this.request, this.shock != null, this.contraindications, assignment);
	}

	/** How many tablets are worth trying beside none. */
	List<Integer> tabletCounts() {
		return (this.shock != null) ? List.of()
				: this.tabletSupply.candidateCounts(this.water.water().cyanuricAcid());
	}

	PoolFacts pool() {
		return this.request.pool();
	}

	/** Of today: a level is dosed on a test of today only. */
	Readings readings() {
		return this.request.readings();
	}

	Situation situation() {
		return this.request.situation();
	}

	/** Why TA, CH, CYA and salt are not lifted yet, as a message code; null where they may be. */
	@Nullable
	String balanceWaits() {
		return (replacement() != null) ? "note.balance-after-replacing"
				: holdsMetal() ? "note.balance-after-metal" : procedure().balanceWaits();
	}

	/** FC that ammonia uses up before any stays, ppm. */
	double chlorineForAmmonia() {
		Double ammonia = readings().value(Level.AMMONIA);
		return (ammonia != null && PoolCondition.AMMONIA_PRESENT.holds(this.request, this.assessment))
				? ammonia * Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN_IN_PRACTICE : 0;
	}

	/** As it is within the hour: ammonia has taken chlorine, and left with it. */
	PoolWater afterAmmonia(PoolWater dosed) {
		double brought = dosed.water().freeChlorine() - this.water.water().freeChlorine();
		double demand = chlorineForAmmonia();
		return (brought > 0 && demand > 0)
				? dosed.afterBreakpoint(Math.min(dosed.water().freeChlorine(), demand),
						Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN_IN_PRACTICE)
				: dosed;
	}

	/** Whether a sequestrant goes in before what makes metal fall out: superchlorination, oxidizer and what lifts pH. */
	boolean holdsMetal() {
		return replacement() == null && PoolCondition.METAL_TO_HOLD.holds(this.request, this.assessment);
	}

	/** Whether everything put in before would go with the old water: a spa is emptied at once. A pool needs its chlorine meanwhile. */
	boolean replacesFirst() {
		return replacement() != null && pool().body() == BodyOfWater.SPA;
	}

	/** Growth gets chlorine in the old water, the whole treatment in the new. */
	boolean treatsInNewWater() {
		return replacement() != null && situation().growth();
	}

	/** Metals are held in solution at a low pH: before the sequestrant has been in, it is lifted only where it corrodes. */
	boolean phMayRise() {
		Double ph = readings().ph();
		boolean metal = situation().metal() || PoolCondition.METAL_HIGH.holds(this.request, this.assessment);
		return !metal || (ph != null && ph < PH_CORROSIVE);
	}

	@Nullable
	WaterReplacement replacement() {
		return this.recommendation.replacement();
	}

	/** Nobody comes back within hours on a route: what is not done at this stop is left to the next one. */
	double nextVisitHours() {
		return Math.max(1, this.request.daysToNextVisit()) * SituationProcedure.DAY;
	}

	/** What the situation asks for. */
	SituationProcedure procedure() {
		return SituationProcedures.of(this.request.situation(), this.request.pool());
	}

}
