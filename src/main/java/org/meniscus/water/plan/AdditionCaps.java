package org.meniscus.water.plan;

import java.util.OptionalDouble;

import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;

/** Most of a product in one addition: the label's figure and the largest changes; common practice, no source. */
final class AdditionCaps {

	/** In one addition. */
	private static final double MAX_PH_CHANGE = 0.6;

	/** In one visit. */
	static final double MAX_TA_CHANGE = 40;

	private static final double MAX_CH_CHANGE = 80;

	/** Small pools get chlorine in steps of so many ppm with a test between. */
	static final double SMALL_FC_STEP = 4;

	private final PlanContext context;

	private final double litres;

	AdditionCaps(PlanContext context) {
		this.context = context;
		this.litres = context.litres();
	}

	/** Grams or millilitres in this water; unlimited where nothing limits it. */
	double most(Product product, Step.Purpose purpose, PoolWater water) {
		Double label = product.mostFor(this.litres);
		double cap = (label != null) ? label : Double.MAX_VALUE;
		return switch (purpose) {
			case LOWER_PH, RAISE_PH -> Math.min(Math.min(cap, amountForPhChange(product, cap, water)), mostOfVisit(product));
			case RAISE_TA -> Math.min(cap, mostOfVisit(product));
			case RAISE_CH -> Math.min(cap, amountForChange(product, Level.CH, MAX_CH_CHANGE));
			case RAISE_FC -> this.context.pool().small()
					? Math.min(cap, ProductEffects.amount(product, smallFcStep(water), this.litres)) : cap;
			default -> cap;
		};
	}

	/** By what it moves alkalinity. */
	double mostOfVisit(Product product) {
		return amountForChange(product, Level.TA, MAX_TA_CHANGE);
	}

	/** Never less than brings the pool back to its minimum. */
	private double smallFcStep(PoolWater water) {
		Double minimum = this.context.assessment().fcToHold();
		return (minimum == null) ? SMALL_FC_STEP : Math.max(SMALL_FC_STEP, minimum - water.water().freeChlorine());
	}

	private double amountForChange(Product product, Level level, double change) {
		double perUnit = Math.abs(ProductEffects.lasting(product, 1, this.litres).getOrDefault(level, 0.0));
		return (perUnit > 0) ? change / perUnit : Double.MAX_VALUE;
	}

	/** Amount that moves pH by the largest allowed step, at most the cap; the cap where no dose moves it that far. */
	private double amountForPhChange(Product product, double cap, PoolWater water) {
		double ph = water.water().ph() + (product.kind().ingredient().acid() ? -MAX_PH_CHANGE : MAX_PH_CHANGE);
		OptionalDouble dose = Dosing.doseForPh(water.water(), ProductEffects.reagent(product.kind().ingredient()), ph);
		return dose.isPresent() ? Math.min(cap, ProductEffects.amount(product, dose.getAsDouble(), this.litres)) : cap;
	}

	/** Most that the label of a chlorine brings to water without any, ppm; unlimited where it names no maximum. */
	static double labelledFc(Product chlorine, double litres) {
		Double most = chlorine.mostFor(litres);
		return (most == null) ? Double.MAX_VALUE : ProductEffects.concentration(chlorine, most, litres);
	}

}
