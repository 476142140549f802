package org.meniscus.water.plan;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.PoolWater;
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
 * @param recommendation whether water has to be replaced
 * @param tabletSupply without tablets of today
 * @param season what CYA and CH are worth in the time ahead; null where no season prices them
 */
record PlanContext(PlanRequest request, Assessment assessment, Readings effectiveReadings, double litres, PoolWater water,
		@Nullable ShockLevel shock, WaterReplacement.Recommendation recommendation, Contraindications contraindications,
		TabletSupply tabletSupply, PriceList prices, @Nullable SeasonValue season) {

	static PlanContext of(PlanRequest request, PoolWater water, double litres) {
		Readings effectiveReadings = request.effectiveReadings();
		Assessment assessment = Assessment.of(request.pool(), effectiveReadings, request.policy());
		SituationProcedure procedure = SituationProcedures.of(request.situation());
		Contraindications contraindications = Contraindications.of(request, assessment);
		ShockLevel shock = request.pool().sanitizer().usesChlorine() ? procedure.shock(request, assessment) : null;
		if (shock == null && shockForCombined(request, assessment, procedure, water, contraindications)) {
			shock = ShockLevel.LIGHT;
		}
		TabletSupply supply = TabletSupply.of(request, assessment, tablets(request, water, contraindications), litres);
		PriceList prices = new PriceList(request.products(), litres);
		// What goes into a pool that leaks leaves with its water.
		SeasonValue season = (request.situation() == Situation.LEAK_SUSPECTED) ? null
				: SeasonValue.of(request.pool(), request.policy(), prices, request.forecast(), water.water(), request.daysToNextVisit());
		return new PlanContext(request, assessment, effectiveReadings, litres, water, shock,
				WaterReplacement.recommend(request, assessment, water, litres, season), contraindications, supply, prices, season);
	}

	/** High CC that no procedure of its own answers takes superchlorination where the oxidizer is not along or FC is low as well. */
	private static boolean shockForCombined(PlanRequest request, Assessment assessment, SituationProcedure procedure, PoolWater water,
			Contraindications contraindications) {
		Situation situation = request.situation();
		return procedure.shockLevel() == null && !situation.chlorineWaits() && situation != Situation.NEW_PLASTER
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

	@Nullable
	WaterReplacement replacement() {
		return this.recommendation.replacement();
	}

	/** What the situation asks for. */
	SituationProcedure procedure() {
		return SituationProcedures.of(this.request.situation());
	}

}
