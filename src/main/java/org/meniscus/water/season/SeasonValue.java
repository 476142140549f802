package org.meniscus.water.season;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.demand.PoolKind;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.NormalDistribution;

/**
 * What CYA and CH are worth in one pool on one day: the least cost of its coming years from them on, in minor units of the company's
 * currency. Only differences mean something. Outdoor pools on chlorine have one.
 */
public final class SeasonValue {

	/** Steps in which the use of a pool against its kind is solved for; between them the value is interpolated. */
	private static final double USE_STEP = Math.log(1.5);

	/** More or less is taken as so many steps. */
	private static final int MOST_USE_STEPS = 2;

	/** Volumes this close, relative, are taken as one. */
	private static final double VOLUME_STEP = Math.log(1.15);

	/** Median of fill water in the US where nobody has said, ppm CH; assumption, as in the season estimates. */
	private static final double FILL_CH = 160;

	private static final int MAX_IN_FLOATER = 5;

	private static final int MAX_IN_FEEDER = 12;

	/** A tablet where the company has none, grams. */
	private static final double TABLET_GRAMS = 227;

	/** A cell of 700 dollars makes about 300 kg of chlorine; minor units per gram. Common practice, no source. */
	private static final double CELL_WEAR = 0.23;

	private static final int WEEK_DAYS = 7;

	/** FC at which use is compared, ppm. */
	private static final double USUAL_FC = 3;

	/** Relative accuracy of a saving: a drain that saves no more than it costs, as near as the grid can tell, pays. */
	private static final double GRID_ERROR = 0.03;

	private final ValueFunction lower;

	private final ValueFunction upper;

	/** Weight of {@link #upper}. */
	private final double share;

	private final double week;

	private final double nextWeek;

	private final double fillCh;

	private final double stabilizerLimit;

	private final double stabilizerPrice;

	private final TreatmentCosts costs;

	private final double litres;

	private SeasonValue(SeasonProblem problem, double use, double week, double days, TreatmentCosts costs, PriceList prices) {
		double steps = Math.max(-MOST_USE_STEPS, Math.min(MOST_USE_STEPS, Math.log(use) / USE_STEP));
		double below = Math.min(MOST_USE_STEPS - 1, Math.floor(steps));
		this.share = steps - below;
		this.lower = ValueFunction.of(problem.withUse(Math.exp(USE_STEP * below)));
		this.upper = ValueFunction.of(problem.withUse(Math.exp(USE_STEP * (below + 1))));
		this.week = week;
		this.nextWeek = week + days / WEEK_DAYS;
		this.fillCh = problem.fillCh();
		this.stabilizerLimit = problem.stabilizerLimit();
		this.stabilizerPrice = problem.prices().stabilizer();
		this.costs = costs;
		this.litres = prices.litres();
	}

	/**
	 * @param water today, as far as known
	 * @param days to the next visit; zero = not known, then a week
	 * @return null indoors, for spas, and where chlorine or hardness has no range
	 */
	public static @Nullable SeasonValue of(PoolFacts pool, TreatmentPolicy policy, PriceList prices, PoolForecast forecast, Water water,
			int days) {
		Range cya = pool.targets().range(Level.CYA);
		Range ch = pool.targets().range(Level.CH);
		if (!pool.sanitizer().usesChlorine() || pool.indoor() || pool.body() != BodyOfWater.POOL || cya == null || ch == null) {
			return null;
		}
		double litres = round(prices.litres(), VOLUME_STEP);
		PoolKind kind = new PoolKind(false, false, litres, PoolKind.Feed.NONE);
		double celsius = water.temperature().celsius();
		double use = forecast.demand().use(USUAL_FC).middle()
				/ (kind.firstOrderRate(celsius, water.cyanuricAcid()) * USUAL_FC + kind.zeroOrderRate(celsius));
		double interval = (days == 0) ? WEEK_DAYS : days;
		SeasonProblem problem = new SeasonProblem(forecast.today().climate(), kind, supply(pool, forecast), 1, roundInterval(interval),
				roundTo(Math.max(policy.fcCeiling(), 0.5), 0.5), policy.cyaPerFc(), Assessor.fcStabilized(pool), fcIdealLow(pool),
				NormalDistribution.quantile(policy.holdProbability()),
				tabletStep(pool, prices, litres), DissolvingTablets.cyaLimit(pool),
				Math.min(cya.acceptableHigh(), roundTo(policy.fcCeiling(), 0.5) * policy.cyaPerFc()),
				0.5 * (cya.idealLow() + cya.idealHigh()),
				new SeasonProblem.HardnessRange(ch.acceptableLow(), ch.idealLow(), ch.idealHigh(), ch.acceptableHigh(),
						hardnessLimit(ch)),
				roundTo(or(pool.fill().ta(), AssumedLevels.TA), 50), roundTo(or(pool.fill().ch(), FILL_CH), 50), 0, 0,
				prices(pool, policy, new PriceList(prices.products(), litres)).rounded());
		double week = (forecast.today().dayOfYear() - 0.5) / WEEK_DAYS - 0.5;
		return new SeasonValue(withSources(problem, forecast, water, (int) Math.max(0, week)), Math.max(0.01, use), Math.max(0, week),
				interval, policy.costs(),
				prices);
	}

	/** Value at the next visit. @param state what today leaves behind */
	public double atNextVisit(State state) {
		return at(this.nextWeek, state);
	}

	/** Minor units that replacing this share of the water costs: fill water and visits. */
	public double costOfReplacing(double waterShare, int drainCount) {
		return waterShare * this.litres / 1000 * this.costs.waterPerM3() + drainCount * this.costs.drainLabor();
	}

	/** What a drain of this share changes in the cost of the years ahead, its own cost counted; below zero it pays. */
	public double netCostOfReplacing(State state, double waterShare, int drainCount) {
		return costOfReplacing(waterShare, drainCount) + at(this.week, state.replaced(waterShare, this.fillCh)) - at(this.week, state);
	}

	/** Whether replacing this share now costs no more than it saves in the years ahead. */
	public boolean paysToReplace(State state, double waterShare, int drainCount) {
		return netCostOfReplacing(state, waterShare, drainCount) <= GRID_ERROR * costOfReplacing(waterShare, drainCount);
	}

	/**
	 * CYA up to which buying stabilizer costs no more than it saves in the years ahead, ppm; zero where it never does. It depends on the pool and
	 * the day but not on today's CYA, so that a dose falls to nothing as CYA comes near it.
	 */
	public double stabilizerTarget(double ch) {
		double target = 0;
		double least = Double.POSITIVE_INFINITY;
		for (double cya = 0; cya <= this.stabilizerLimit + 1e-9; cya += SeasonOperator.CYA_STEP) {
			double cost = cya * this.stabilizerPrice + at(this.week, new State(cya, ch));
			if (cost <= least + GRID_ERROR * SeasonOperator.CYA_STEP * this.stabilizerPrice) {
				target = cya;
				least = Math.min(least, cost);
			}
		}
		return target;
	}

	/** Share of a day's price that a day below the minimum FC costs in water of this temperature, degrees Celsius: 0 to 1. */
	public static double warmth(double celsius) {
		return SeasonOperator.warmth(celsius);
	}

	/**
	 * CYA up to which tablets may bring it, ppm: as far as doses are to hold the minimum FC it asks for ({@link Assessor#cyaToHold}), beyond
	 * that as far as that is still there at the next visit when FC starts from the ceiling, and below the trade's limit for tablets.
	 *
	 * @param fcFromCeiling FC expected at the next visit from the ceiling, tablets counted in, ppm
	 */
	public static double tabletCyaCap(PoolFacts pool, TreatmentPolicy policy, double fcFromCeiling) {
		return Math.min(DissolvingTablets.cyaLimit(pool), WeeklyStage.cyaCap(policy.cyaPerFc(), policy.fcCeiling(), fcFromCeiling));
	}

	/** CH from which new water is asked for whatever it costs, ppm: halfway from the ideal to the acceptable end. */
	public static double hardnessLimit(Range ch) {
		return 0.5 * (ch.idealHigh() + ch.acceptableHigh());
	}

	private double at(double atWeek, State state) {
		return (1 - this.share) * this.lower.at(atWeek, state) + this.share * this.upper.at(atWeek, state);
	}

	private static Supply supply(PoolFacts pool, PoolForecast forecast) {
		if (pool.sanitizer() == Sanitizer.SALT_CELL) {
			return Supply.CELL;
		}
		boolean softWalls = pool.sanitizer() == Sanitizer.FLOATER && ProductKind.TRICHLOR_TAB.avoid().contains(pool.surface());
		if (forecast.tablets() != null) {
			return softWalls ? Supply.POURED : Supply.TABLETS;
		}
		return (pool.sanitizer() == Sanitizer.TABLET_FEEDER) ? Supply.FED_BY_OTHERS : Supply.POURED;
	}

	private static double fcIdealLow(PoolFacts pool) {
		Range range = pool.targets().range(Level.FC);
		return (range != null) ? range.idealLow() : Assessor.fcStabilized(pool);
	}

	/** Of the tablets the company has, as a share of what floater or feeder takes. */
	private static double tabletStep(PoolFacts pool, PriceList prices, double litres) {
		double grams = TABLET_GRAMS;
		for (Product product : prices.products()) {
			if (tablets(product)) {
				grams = or(product.tabletGrams(), TABLET_GRAMS) * or(product.strength(), 1);
			}
		}
		int capacity = (pool.sanitizer() == Sanitizer.TABLET_FEEDER) ? MAX_IN_FEEDER : MAX_IN_FLOATER;
		return round(grams * 1000 / litres * capacity / SeasonOperator.MAX_STEPS, VOLUME_STEP);
	}

	private static boolean tablets(Product product) {
		return product.kind() == ProductKind.TRICHLOR_TAB && product.strengthKnown() && product.tabletGrams() != null
				&& product.preference() != ProductPreference.NEVER;
	}

	private static SeasonPrices prices(PoolFacts pool, TreatmentPolicy policy, PriceList list) {
		double supplied = Double.POSITIVE_INFINITY;
		for (Product product : list.products()) {
			supplied = tablets(product) ? Math.min(supplied, list.perFc(product)) : supplied;
		}
		if (pool.sanitizer() == Sanitizer.SALT_CELL) {
			supplied = CELL_WEAR * list.litres() / 1000;
		}
		else if (supplied == Double.POSITIVE_INFINITY) {
			supplied = list.perFc(Product.usual("usual", ProductKind.TRICHLOR_TAB));
		}
		boolean calcium = !pool.small() && pool.sanitizer() != Sanitizer.SALT_CELL && pool.surface() != Surface.SOFT_SIDED;
		return new SeasonPrices(list.liquidChlorine(), supplied, calcium ? list.calciumHypochlorite() : Double.POSITIVE_INFINITY,
				list.lowerAlkalinity(), list.raise(Level.TA), list.raise(Level.CYA), list.raise(Level.CH),
				list.litres() / 1000 * policy.costs().waterPerM3(), policy.costs().drainLabor(), policy.dayBelowMinimum());
	}

	/** A pool whose own drift is known, by what that differs from the drift of its kind. */
	private static SeasonProblem withSources(SeasonProblem problem, PoolForecast forecast, Water water, int week) {
		Double cya = forecast.driftPerDay().get(Level.CYA);
		Double ch = forecast.driftPerDay().get(Level.CH);
		if (cya == null && ch == null) {
			return problem;
		}
		TransitionModel usual = new TransitionModel(problem.climate(), problem.fillCh(), 0, 0);
		double fed = (problem.supply() == Supply.FED_BY_OTHERS)
				? WEEK_DAYS * forecast.seasonUse() * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE : 0;
		double cyaUsual = usual.meanChange(week, water.cyanuricAcid(), usual::cyaAfter) + fed;
		double chUsual = usual.meanChange(week, water.calciumHardness(), usual::chAfter);
		return problem.withSources((cya == null) ? 0 : roundTo(within(WEEK_DAYS * cya - cyaUsual, 10), 0.5),
				(ch == null) ? 0 : roundTo(within(WEEK_DAYS * ch - chUsual, 40), 4));
	}

	private static double roundInterval(double days) {
		return (days < 5) ? 3.5 : (days < 11) ? WEEK_DAYS : 2 * WEEK_DAYS;
	}

	private static double round(double value, double step) {
		return Math.exp(step * Math.rint(Math.log(value) / step));
	}

	private static double roundTo(double value, double step) {
		return step * Math.rint(value / step);
	}

	private static double within(double value, double limit) {
		return Math.max(-limit, Math.min(limit, value));
	}

	private static double or(@Nullable Double value, double otherwise) {
		return (value != null) ? value : otherwise;
	}

}
