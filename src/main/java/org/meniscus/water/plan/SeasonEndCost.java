package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.CyanuricAcidLoss;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.NormalDistribution;

/**
 * What a level will cost by the season's end, given where it stands after today: each slow level is carried to the season's end by its
 * own drift; what is then expected to be missing has to be bought, what is too much asks for water to be replaced (CYA, CH, salt) or
 * for acid (TA). Both are expectations over what test and drift leave open, so that a cost begins before a limit is reached.
 */
public final class SeasonEndCost {

	/** Fraction of CYA lost a day over the rest of a season, where no drift is known; its water is taken to be at 28 °C in the mean. */
	private static final double CYA_LOSS = CyanuricAcidLoss.total(28);

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
	 * @param retained share of what is put in today that is still there then
	 */
	private record MarginalCost(Level level, double raise, double lower, double idealLow, double idealHigh, double spread, double now,
			double undosed,
			double retained) {

		double of(double value) {
			double end = this.undosed + (value - this.now) * this.retained;
			return this.raise * NormalDistribution.expectedExcess(-end, this.spread, -this.idealLow)
					+ this.lower * NormalDistribution.expectedExcess(end, this.spread, this.idealHigh);
		}

	}

	private final List<MarginalCost> marginalCosts = new ArrayList<>();

	private final double litres;

	/** Of the cheapest chlorine along that is dosed by hand, one ppm; the usual price where there is none. */
	private final double chlorine;

	SeasonEndCost(PlanRequest request, PoolWater now, double litres) {
		this.litres = litres;
		this.chlorine = chlorine(request);
		for (Level level : new Level[]{ Level.CYA, Level.CH, Level.SALT, Level.TA }) {
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
	 * @param fcCarriedOver FC that is still there at the next visit because of the plan, where plans differ in that, ppm: it need not be dosed then
	 */
	List<TotalCost.LevelCost> levelCosts(PoolWater before, PoolWater after, double tablets, double fcCarriedOver) {
		List<TotalCost.LevelCost> left = new ArrayList<>();
		Map<Level, Double> dissolved = (tablets > 0) ? ProductEffects.lasting(ActiveIngredient.TRICHLOR, tablets) : Map.of();
		if (fcCarriedOver != 0) {
			left.add(new TotalCost.LevelCost(Level.FC, fcCarriedOver, -fcCarriedOver * this.chlorine));
		}
		for (MarginalCost marginal : this.marginalCosts) {
			double from = value(before, marginal.level(), 0);
			double to = value(after, marginal.level(), after.water().freeChlorine() - before.water().freeChlorine())
					+ dissolved.getOrDefault(marginal.level(), 0.0);
			if (Math.abs(to - from) > 1e-6) {
				left.add(new TotalCost.LevelCost(marginal.level(), to - from, marginal.of(to) - marginal.of(from)));
			}
		}
		return left;
	}

	private @Nullable MarginalCost marginalCost(PlanRequest request, PoolWater now, Level level) {
		PoolFacts pool = request.pool();
		Range range = pool.targets().range(level);
		if (range == null || (level == Level.CYA && !pool.sanitizer().usesChlorine())) {
			return null;
		}
		double value = value(now, level, 0);
		double test = TestPrecision.usual(level).standardDeviation(value) * (now.knows(level) ? 1 : ASSUMED_FACTOR);
		double spread = (request.forecast().daysToSeasonEnd() == 0) ? test : Math.hypot(test, DRIFT_DEVIATION * value);
		if (level == Level.TA) {
			// Alkalinity follows what is dosed from week to week: too little costs bicarbonate, too much acid.
			double middle = 0.5 * (range.idealLow() + range.idealHigh());
			return new MarginalCost(level, raise(request, level), lowerAlkalinity(request), middle, middle, spread, value, value, 1);
		}
		TreatmentCosts costs = request.policy().costs();
		double water = this.litres / 1000 * costs.waterPerM3() + DRAINS_PER_VOLUME * costs.drainLabor();
		Double known = pool.fill().value(level);
		double fill = (known != null) ? known : (level == Level.SALT) ? AssumedLevels.FILL_SALT : 0;
		double lower = water / Math.max(MIN_LIMIT, range.idealHigh() - Math.min(fill, 0.5 * range.idealHigh()));
		boolean wanted = level != Level.CYA || (!pool.indoor() && pool.body() == BodyOfWater.POOL);
		int days = request.forecast().daysToSeasonEnd();
		Double drift = request.forecast().driftPerDay().get(level);
		double retained = (level == Level.CYA) ? Math.exp(-CYA_LOSS * days) : 1;
		double tablets = (level == Level.CYA && pool.sanitizer() == Sanitizer.TABLET_FEEDER && request.forecast().tablets() == null)
				? Stoichiometry.CYA_PER_TRICHLOR_CHLORINE * request.forecast().seasonUse() * days : 0;
		double undosed = (drift != null) ? Math.max(0, value + drift * days) : value * retained + tablets;
		return new MarginalCost(level, wanted ? raise(request, level) : 0, lower, range.idealLow(), range.idealHigh(), spread, value,
				undosed,
				retained);
	}

	/** Of the cheapest product that lifts a level, one ppm of it; the usual price where the company has none. */
	private double raise(PlanRequest request, Level level) {
		ActiveIngredient ingredient = switch (level) {
			case CYA -> ActiveIngredient.CYANURIC_ACID;
			case CH -> ActiveIngredient.CALCIUM_CHLORIDE;
			case SALT -> ActiveIngredient.SALT;
			default -> ActiveIngredient.BICARBONATE;
		};
		ProductKind usual = switch (level) {
			case CYA -> ProductKind.CYA;
			case CH -> ProductKind.CAL_CHLORIDE_77;
			case SALT -> ProductKind.SALT;
			default -> ProductKind.BICARB;
		};
		return cheapest(request, ingredient, usual, level);
	}

	private double chlorine(PlanRequest request) {
		double least = Double.MAX_VALUE;
		for (Product product : request.products()) {
			if (product.kind().ingredient().chlorine() && product.onTruck() && ProductEffects.computable(product)) {
				least = Math.min(least, productCost(product, ProductEffects.amount(product, 1, this.litres)));
			}
		}
		Product usual = Product.usual("usual", ProductKind.LIQUID_CHLORINE_125);
		return (least < Double.MAX_VALUE) ? least : productCost(usual, ProductEffects.amount(usual, 1, this.litres));
	}

	private double lowerAlkalinity(PlanRequest request) {
		return cheapest(request, ActiveIngredient.MURIATIC_ACID, ProductKind.MURIATIC_3145, Level.TA);
	}

	private double cheapest(PlanRequest request, ActiveIngredient ingredient, ProductKind usual, Level level) {
		double least = Double.MAX_VALUE;
		for (Product product : request.products()) {
			if (product.kind().ingredient() == ingredient && product.priceCents() != null && ProductEffects.computable(product)) {
				least = Math.min(least, perPpm(product, level));
			}
		}
		return (least < Double.MAX_VALUE) ? least : perPpm(Product.usual("usual", usual), level);
	}

	private double perPpm(Product product, Level level) {
		double change = Math.abs(ProductEffects.lasting(product, 1, this.litres).getOrDefault(level, 0.0));
		return productCost(product, 1) / change;
	}

	/** At the company's price or, without one, the usual price of its kind; minor units. */
	public static double productCost(Product product, double amount) {
		Long price = product.priceCents();
		ProductKind kind = product.kind();
		return (price != null) ? amount * price / product.packageAmount()
				: amount * 0.5 * (kind.priceLowCents() + kind.priceHighCents()) / kind.pricedAmount();
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
