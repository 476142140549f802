package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.season.SeasonValue;
import org.meniscus.water.season.State;
import org.meniscus.water.season.TotalCost;
import org.meniscus.water.units.NormalDistribution;

/**
 * What stays in the water costs or saves from here on, given where it stands after today. CYA and CH of a pool that has a
 * {@link SeasonValue} are priced by it. Every other level is priced by how far it is expected to miss its ideal range at the season's end: what
 * is missing has to be bought, what is too much asks for water to be replaced or, of TA, for acid. Both are expectations over what test
 * and drift leave open, so that a cost begins before a limit is reached.
 */
final class LastingCost {

	/** How far off the drift over a season is taken to be, as a share of the level; common practice, no source. */
	private static final double DRIFT_DEVIATION = 0.15;

	/** A level nobody tested is known that much worse than a tested one. */
	private static final double ASSUMED_FACTOR = 2;

	/** Drains of a third that replace as much water as the pool holds. */
	private static final int DRAINS_PER_VOLUME = 3;

	/** Ideal of a level whose range ends at zero, so that a cost per ppm exists. */
	private static final double MIN_LIMIT = 15;

	/**
	 * How one level is priced: minor units per ppm.
	 *
	 * @param now ppm before the plan
	 * @param undosed ppm at the season's end if nothing is put in
	 */
	private record MarginalCost(Level level, double raise, double lower, double idealLow, double idealHigh, double spread, double now,
			double undosed) {

		double of(double value) {
			double end = this.undosed + value - this.now;
			return this.raise * NormalDistribution.expectedExcess(-end, this.spread, -this.idealLow)
					+ this.lower * NormalDistribution.expectedExcess(end, this.spread, this.idealHigh);
		}

	}

	private final List<MarginalCost> marginalCosts = new ArrayList<>();

	private final PriceList prices;

	private final double chlorine;

	private final @Nullable SeasonValue season;

	LastingCost(PlanRequest request, PoolWater now, PriceList prices, @Nullable SeasonValue season) {
		this.prices = prices;
		this.chlorine = prices.pouredChlorine();
		this.season = season;
		for (Level level : (season != null) ? new Level[]{ Level.SALT, Level.TA }
				: new Level[]{ Level.CYA, Level.CH, Level.SALT, Level.TA }) {
			MarginalCost cost = marginalCost(request, now, level);
			if (cost != null) {
				this.marginalCosts.add(cost);
			}
		}
	}

	/**
	 * What a plan leaves behind, beside doing nothing.
	 *
	 * @param tablets FC that tablets put in today bring, ppm
	 * @param deferred doses left for another day: what they leave belongs to the plan like their price
	 * @param fcCarriedOver FC that is still there at the next visit because of the plan, where plans differ in that, ppm: it need not be dosed then
	 */
	List<TotalCost.LevelCost> levelCosts(PoolWater before, PoolWater after, double tablets, List<DosingResult.DeferredDose> deferred,
			double fcCarriedOver) {
		List<TotalCost.LevelCost> left = new ArrayList<>();
		Map<Level, Double> dissolved = new EnumMap<>(Level.class);
		if (tablets > 0) {
			dissolved.putAll(ProductEffects.lasting(ActiveIngredient.TRICHLOR, tablets));
		}
		for (DosingResult.DeferredDose dose : deferred) {
			if (ProductEffects.lasts(dose.product().kind().ingredient())) {
				ProductEffects.lasting(dose.product(), dose.amount(), this.prices.litres())
					.forEach((level, change) -> dissolved.merge(level, change, Double::sum));
			}
		}
		if (fcCarriedOver != 0) {
			left.add(new TotalCost.LevelCost(Level.FC, fcCarriedOver, -fcCarriedOver * this.chlorine));
		}
		if (this.season != null) {
			bySeason(this.season, state(before, Map.of()), state(after, dissolved), left);
		}
		for (MarginalCost marginal : this.marginalCosts) {
			double from = value(before, marginal.level(), 0);
			double to = value(after, marginal.level(), after.water().freeChlorine() - before.water().freeChlorine())
					+ dissolved.getOrDefault(marginal.level(), 0.0);
			add(marginal.level(), to - from, marginal.of(to) - marginal.of(from), left);
		}
		return left;
	}

	/** CYA first, then CH at the CYA left: together the difference of the value. */
	private static void bySeason(SeasonValue season, State before, State after, List<TotalCost.LevelCost> left) {
		double from = season.atNextVisit(before);
		double between = season.atNextVisit(new State(after.cya(), before.ch()));
		add(Level.CYA, after.cya() - before.cya(), between - from, left);
		add(Level.CH, after.ch() - before.ch(), season.atNextVisit(after) - between, left);
	}

	private static State state(PoolWater at, Map<Level, Double> dissolved) {
		return new State(at.water().cyanuricAcid() + dissolved.getOrDefault(Level.CYA, 0.0),
				at.water().calciumHardness() + dissolved.getOrDefault(Level.CH, 0.0));
	}

	private static void add(Level level, double change, double cost, List<TotalCost.LevelCost> left) {
		if (Math.abs(change) > 1e-6) {
			left.add(new TotalCost.LevelCost(level, change, cost));
		}
	}

	private @Nullable MarginalCost marginalCost(PlanRequest request, PoolWater now, Level level) {
		PoolFacts pool = request.pool();
		Range range = pool.targets().range(level);
		if (range == null || (level == Level.CYA && !pool.sanitizer().usesChlorine())) {
			return null;
		}
		double value = value(now, level, 0);
		double test = request.readings().tests().precision(level).standardDeviation(value) * (now.knows(level) ? 1 : ASSUMED_FACTOR);
		double spread = (request.forecast().daysToSeasonEnd() == 0) ? test : Math.hypot(test, DRIFT_DEVIATION * value);
		if (level == Level.TA) {
			// Alkalinity follows what is dosed from week to week: too little costs bicarbonate, too much acid.
			double middle = 0.5 * (range.idealLow() + range.idealHigh());
			return new MarginalCost(level, this.prices.raise(level), this.prices.lowerAlkalinity(), middle, middle, spread, value, value);
		}
		TreatmentCosts costs = request.policy().costs();
		double water = this.prices.litres() / 1000 * costs.waterPerM3() + DRAINS_PER_VOLUME * costs.drainLabor();
		Double known = pool.fill().value(level);
		double fill = (known != null) ? known : (level == Level.SALT) ? AssumedLevels.FILL_SALT : 0;
		double lower = water / Math.max(MIN_LIMIT, range.idealHigh() - Math.min(fill, 0.5 * range.idealHigh()));
		Double drift = request.forecast().driftPerDay().get(level);
		double undosed = (drift != null) ? Math.max(0, value + drift * request.forecast().daysToSeasonEnd()) : value;
		// Stabilizer is not wanted where no season prices it: indoors and in spas.
		return new MarginalCost(level, (level == Level.CYA) ? 0 : this.prices.raise(level), lower, range.idealLow(), range.idealHigh(),
				spread, value, undosed);
	}

	/** @param spent chlorine that is still to be used up, ppm: it takes alkalinity with it */
	private static double value(PoolWater at, Level level, double spent) {
		return switch (level) {
			case CYA -> at.water().cyanuricAcid();
			case CH -> at.water().calciumHardness();
			case SALT -> at.water().salt() + Stoichiometry.SALT_PER_CHLORINE * spent;
			default -> at.water().totalAlkalinity() - Stoichiometry.TA_PER_CHLORINE * spent;
		};
	}

}
