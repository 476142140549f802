package org.meniscus.water.assess;

import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/**
 * A pool whose pH rises week after week, as its visits have taught: less alkalinity, which gives less carbon dioxide off, or borate, which
 * buffers, ends most of the weekly acid. By the equilibrium and the pool's own exchange with air.
 */
public final class AcidDemand {

	/** Smaller rises a week need no answer of their own, pH; common practice, no source. */
	private static final double STANDING_RISE = 0.3;

	/** Visits before a rise is taken to be this pool's own; assumption. */
	private static final int LEAST_INTERVALS = 4;

	/** Less gained is nothing a test shows, pH a week. */
	private static final double LEAST_GAIN = 0.1;

	/** Middle of the usual range: a week's rise is stated from it. */
	private static final double USUAL_PH = 7.5;

	/** The saturation index is looked at where pH stands by the end of the week. */
	private static final double WEEK_END_PH = 7.6;

	/** A drop of the usual test, ppm. */
	private static final double ALKALINITY_STEP = 10;

	private static final int WEEK = 7;

	/** Borate as it is used, ppm boron: upper end of 30 to 50; common practice, no source. */
	private static final double BORATE = 50;

	private AcidDemand() {
	}

	/**
	 * What would end it, with its figures; null where pH does not rise for long, nobody knows why, or neither would help.
	 *
	 * @param found with slow levels of earlier visits
	 */
	public static @Nullable Reason of(PoolFacts pool, Readings found, PhDrift drift, UnitSystem units) {
		Range range = pool.targets().range(Level.TA);
		Volume volume = pool.volume();
		if (drift.intervals() < LEAST_INTERVALS || found.ta() == null || range == null || volume == null) {
			return null;
		}
		Water now = PoolWater.of(pool, found).water().withPh(USUAL_PH);
		double rise = rise(drift, now);
		OptionalDouble acid = (rise < STANDING_RISE) ? OptionalDouble.empty()
				: Dosing.doseForPh(now.withPh(USUAL_PH + rise), Reagent.HYDROCHLORIC_ACID, USUAL_PH);
		if (acid.isEmpty()) {
			return null;
		}
		Product muriatic = Product.usual("usual", ProductKind.MURIATIC_3145);
		Term weekly = new Term.Amount(
				MeasuredAmount.down(ProductEffects.amount(muriatic, acid.getAsDouble(), volume.litres()), muriatic, units));
		Term climb = new Term.Difference(Level.PH, rise);
		for (double alkalinity = range.idealLow(); alkalinity < found.ta(); alkalinity += ALKALINITY_STEP) {
			Water less = now.withTotalAlkalinity(alkalinity);
			double lessRise = rise(drift, less);
			boolean corrodes = found.ch() != null
					&& Speciation.of(less.withPh(WEEK_END_PH)).calciteSaturationIndex() < SaturationBand.of(pool).low();
			if (rise - lessRise >= LEAST_GAIN && !corrodes) {
				return Reason.of("work.acid-alkalinity", climb, weekly, Term.of(Level.TA, alkalinity),
						new Term.Difference(Level.PH, Math.max(0, lessRise)));
			}
		}
		double borateRise = rise(drift, Dosing.add(now, Reagent.BORIC_ACID, Math.max(0, BORATE - now.borate())).withPh(USUAL_PH));
		return (pool.targets().range(Level.BORATE) != null && rise - borateRise >= LEAST_GAIN)
				? Reason.of("work.acid-borate", climb, weekly, Term.of(Level.BORATE, BORATE),
						new Term.Difference(Level.PH, Math.max(0, borateRise)))
				: null;
	}

	/** PH a week from this water; zero where the model says nothing. */
	private static double rise(PhDrift drift, Water water) {
		OptionalDouble expected = drift.expectedPh(water, 0, WEEK);
		return expected.isPresent() ? expected.getAsDouble() - USUAL_PH : 0;
	}

}
