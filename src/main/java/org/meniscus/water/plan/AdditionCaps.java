package org.meniscus.water.plan;

import java.util.OptionalDouble;

import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.MeasurementUncertainty;
import org.meniscus.water.pool.Range;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.RootFinder;

/** Most of a product in one addition: the label's figure and the largest changes; common practice, no source. */
final class AdditionCaps {

	/** In one addition. */
	private static final double MAX_PH_CHANGE = 0.6;

	/** In one visit. */
	static final double MAX_TA_CHANGE = 40;

	private static final double MAX_CH_CHANGE = 80;

	/** Small pools get chlorine in steps of so many ppm with a test between. */
	static final double SMALL_FC_STEP = 4;

	/** Acid must not bring pH below this; plaster and metal suffer. Common practice, no source. */
	private static final double PH_HARM = 7.0;

	/** FC beyond the swim ceiling that a day takes away again, ppm; common practice, no source. */
	private static final double FC_HARM = 1;

	/** PH below the acceptable high end from which a second addition of acid goes in: chlorine lifts pH by half of it; common practice, no source. */
	private static final double ROOM_FOR_CHLORINE = 0.2;

	/** PH by which a second addition of acid lowers it for each pH above where it starts. */
	private static final double SECOND_GAIN = 1.25;

	/** Half a step of a pH test: a second addition that moves less is none. */
	private static final double HALF_TEST_STEP = 0.05;

	/** Closes in below what can be measured out. */
	private static final int HALVINGS = 6;

	/** What measuring out may leave of a dose, ppm FC. */
	private static final double MEASURED = 0.1;

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
		PlanRequest request = this.context.request();
		double least = Assessor.fcToReach(request.pool(), this.context.effectiveReadings(), request.policy());
		return Math.max(SMALL_FC_STEP, least - water.water().freeChlorine() + MEASURED);
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

	/** Of a second addition of acid on one visit, grams or millilitres: it grows from nothing, the higher the first one leaves pH. */
	double secondAcid(Product acid, PoolWater water) {
		Range range = this.context.pool().targets().range(Level.PH);
		double ph = water.water().ph();
		double fall = (range == null) ? 0 : SECOND_GAIN * (ph - range.acceptableHigh() + ROOM_FOR_CHLORINE);
		if (fall < HALF_TEST_STEP) {
			return 0;
		}
		OptionalDouble dose = Dosing.doseForPh(water.water(), ProductEffects.reagent(acid.kind().ingredient()), ph - fall);
		return dose.isPresent() ? ProductEffects.amount(acid, dose.getAsDouble(), this.litres) : Double.MAX_VALUE;
	}

	/**
	 * How much of an amount goes in before the next test, as a share: as much as surely leaves the level short of where it does harm, at least
	 * half. All of it where next to nothing would be left.
	 */
	double certainShare(Step.Purpose purpose, Product product, double amount, PoolWater water) {
		Level level = purpose.level();
		if (level == null || level == Level.PHOSPHATE || this.context.shock() != null) {
			return 1;
		}
		Double before = water.levels().value(level);
		Double after = water.after(product, amount, this.litres).levels().value(level);
		Range range = this.context.pool().targets().range(level);
		if (before == null || after == null || range == null) {
			return 1;
		}
		if (level == Level.PH && after > before && before >= range.acceptableLow()) {
			// Too little to be divided: it only answers what else goes in.
			return 1;
		}
		double harm = switch (level) {
			case PH -> (after < before) ? PH_HARM : range.acceptableHigh();
			case FC -> Math.max(this.context.request().policy().swimCeiling(), after) + FC_HARM;
			case BROMINE -> Math.max(range.acceptableHigh(), after) + FC_HARM * ResidualTarget.BROMINE;
			default -> range.acceptableHigh();
		};
		double change = after - before;
		double share = RootFinder
			.bisect(0.5, 1, HALVINGS, part -> spread(level, before, part * change) <= Math.abs(harm - before - part * change) + 1e-9)
			.low();
		return (share > 1 - DosingSequence.LITTLE) ? 1 : share;
	}

	/** How far a level may be off after it has been moved so much; 80 of 100 times it is less. */
	double spread(Level level, double before, double change) {
		return NormalDistribution.Z80 * MeasurementUncertainty.after(this.context.request().readings().tests(), level, before, change,
				this.context.pool().certainty());
	}

}
