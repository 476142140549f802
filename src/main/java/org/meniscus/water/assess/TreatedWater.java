package org.meniscus.water.assess;

import java.util.List;
import java.util.OptionalDouble;

import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;

/**
 * The states that one treatment takes a water through, acid and alkali left out, and how much of either may go in: no state leaves the
 * acceptable range of pH or the {@link SaturationBand} further than the water was before. The index counts where pH, TA and CH were tested.
 */
public final class TreatedWater {

	/** Saturation index below which acid makes the water attack; common practice, no source. */
	public static final double ATTACKS = -0.6;

	/** In place of the index of water without calcium or carbonate, which has none. */
	private static final double NO_LIME = -5;

	/** Of the index, for what is measured out. */
	private static final double MARGIN = 0.02;

	private final List<Water> states;

	private final double acceptableLow;

	/** No lower than the water was before. */
	private final double phLow;

	private final double phHigh;

	/** Without limit where the index is not known. */
	private final SaturationBand band;

	private final double indexBefore;

	private final double chlorineBefore;

	/**
	 * @param range of pH
	 * @param states in order: now, today's with as much of its chlorine as people may swim in, without it, and so on; the last is the
	 * settled one
	 * @param later fall of pH that what is not among the states still brings: they keep so far from the low limit
	 */
	public TreatedWater(PoolFacts pool, Range range, PoolWater before, List<Water> states, double later) {
		this.states = List.copyOf(states);
		Double index = before.levels().value(Level.SATURATION_INDEX);
		boolean known = index != null;
		this.band = known ? SaturationBand.of(pool) : new SaturationBand(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
		this.chlorineBefore = before.water().freeChlorine();
		this.indexBefore = (index != null) ? index : 0;
		this.acceptableLow = range.acceptableLow() + later;
		this.phLow = Math.min(range.acceptableLow(), before.water().ph()) + later;
		this.phHigh = Math.max(range.acceptableHigh(), before.water().ph());
	}

	/** The same limits for other states. */
	public TreatedWater with(List<Water> other) {
		return new TreatedWater(this, other);
	}

	private TreatedWater(TreatedWater limits, List<Water> states) {
		this.states = List.copyOf(states);
		this.acceptableLow = limits.acceptableLow;
		this.phLow = limits.phLow;
		this.phHigh = limits.phHigh;
		this.band = limits.band;
		this.chlorineBefore = limits.chlorineBefore;
		this.indexBefore = limits.indexBefore;
	}

	/** When all has gone in, dissolved and the chlorine of the treatment is used up. */
	public Water settled() {
		return this.states.get(this.states.size() - 1);
	}

	/** Everything of today in, with as much of its chlorine still there as people may swim in. */
	public Water today() {
		return state(1);
	}

	/** By how much the settled index is above its band at another pH, near enough: an index moves as pH does. Negative inside. */
	public double indexAbove(double ph) {
		return Double.isInfinite(this.band.high()) ? this.band.low() : index(settled()) + ph - settled().ph() - this.band.high();
	}

	/** By how much the settled index is below its band at another pH, near enough. Negative inside. */
	public double indexBelow(double ph) {
		return Double.isInfinite(this.band.low()) ? this.band.low() : this.band.low() - index(settled()) - ph + settled().ph();
	}

	/** By how much the settled water falls short of the limits, in pH or index, whichever is more; zero when it does not. */
	public double tooLow() {
		return tooLow(settled(), this.phLow);
	}

	/** By how much the settled water passes the limits, in pH or index, whichever is more; zero when it does not. */
	public double tooHigh() {
		return tooHigh(settled(), this.phHigh);
	}

	/**
	 * Whether any state falls short of a limit by more than so much and by more than the same state of another treatment. What only lowers
	 * waits while pH is below its range, too.
	 *
	 * @param index whether the saturation index counts
	 */
	public boolean isLowerThan(TreatedWater other, double tolerance, boolean index) {
		for (int n = 0; n < this.states.size(); n++) {
			double low = index ? tooLow(this.states.get(n), this.acceptableLow) : this.acceptableLow - this.states.get(n).ph();
			double otherLow = index ? tooLow(other.state(n), this.acceptableLow) : this.acceptableLow - other.state(n).ph();
			if (low > Math.max(tolerance, otherLow)) {
				return true;
			}
		}
		return false;
	}

	/**
	 * Whether any state passes a limit by more than so much and by more than the same state of another treatment. While chlorine of the
	 * treatment is still there only pH counts: it lifts the index until it is used up.
	 *
	 * @param highestPh limit of pH without that chlorine, where it is below the acceptable range's
	 */
	public boolean isHigherThan(TreatedWater other, double tolerance, double highestPh) {
		for (int n = 0; n < this.states.size(); n++) {
			Water state = this.states.get(n);
			boolean chlorine = state.freeChlorine() > this.chlorineBefore + 1e-9;
			double high = chlorine ? state.ph() - this.phHigh : tooHigh(state, highestPh);
			double otherHigh = chlorine ? other.state(n).ph() - this.phHigh : tooHigh(other.state(n), highestPh);
			if (high > Math.max(tolerance, otherHigh)) {
				return true;
			}
		}
		return false;
	}

	private Water state(int number) {
		return this.states.get(Math.min(number, this.states.size() - 1));
	}

	private double tooLow(Water state, double lowestPh) {
		return Math.max(0, Math.max(lowestPh - state.ph(), Math.min(this.band.low(), this.indexBefore) - index(state)));
	}

	private double tooHigh(Water state, double highestPh) {
		return Math.max(0,
				Math.max(state.ph() - Math.min(this.phHigh, highestPh), index(state) - Math.max(this.band.high(), this.indexBefore)));
	}

	/** The most of an acid up to what is wanted, mg/L, that takes no state below the limits. */
	public double mostAcid(Reagent acid, double wanted) {
		return mostAcid(acid, wanted, Math.min(this.band.low() + MARGIN, this.indexBefore));
	}

	/** The same where the index may fall to this, if that is below its band: pH out of range closes a pool, such an index does not. */
	public double mostAcidAbove(Reagent acid, double wanted, double lowestIndex) {
		return mostAcid(acid, wanted, Math.min(Math.min(this.band.low() + MARGIN, lowestIndex), this.indexBefore));
	}

	/**
	 * The most of an acid up to what is wanted, mg/L, that takes no state below the limit of pH nor below this index, and none at all below
	 * {@link #ATTACKS}.
	 */
	public double mostAcid(Reagent acid, double wanted, double lowestIndex) {
		double most = wanted;
		for (int n = 0; n < this.states.size(); n++) {
			Water state = this.states.get(n);
			// Acid is alone only until the rest has gone in.
			double index = Double.isInfinite(this.band.low()) ? this.band.low() : (n == 0) ? Math.min(ATTACKS, lowestIndex) : lowestIndex;
			if (state.ph() <= this.phLow || index(state) <= index) {
				return 0;
			}
			Water after = Dosing.add(state, acid, most);
			if (after.ph() < this.phLow || index(after) < index) {
				most = limit(state, acid, this.phLow, index);
			}
		}
		return most;
	}

	/** The most of an alkali up to what is wanted, mg/L, that takes no state above the limits; it goes in last, so the first state does not count. */
	public double mostAlkali(Reagent alkali, double wanted) {
		double index = Math.max(this.band.high(), this.indexBefore);
		double most = wanted;
		for (Water state : this.states.subList(1, this.states.size())) {
			if (state.ph() >= this.phHigh || index(state) >= index) {
				return 0;
			}
			Water after = Dosing.add(state, alkali, most);
			if (after.ph() > this.phHigh || index(after) > index) {
				most = limit(state, alkali, this.phHigh, index);
			}
		}
		return most;
	}

	/** By how much so much muriatic acid takes pH of the settled water down. @param acid mg/L */
	public double fall(double acid) {
		return settled().ph() - Dosing.add(settled(), Reagent.HYDROCHLORIC_ACID, acid).ph();
	}

	/** Of this reagent, mg/L, to bring a water to a pH; zero when it is past it or this reagent cannot bring it there. */
	public static double dose(Water water, Reagent reagent, double target) {
		boolean acid = reagent.alkalinity() < 0;
		if (acid ? water.ph() <= target : water.ph() >= target) {
			return 0;
		}
		OptionalDouble dose = Dosing.doseForPh(water, reagent, target);
		return dose.orElse(0);
	}

	/** The least dose with which a state reaches this pH or this index, whichever comes first. */
	private static double limit(Water state, Reagent reagent, double ph, double index) {
		OptionalDouble toPh = Dosing.doseForPh(state, reagent, ph);
		if (toPh.isEmpty()) {
			return 0;
		}
		double most = toPh.getAsDouble();
		return Double.isInfinite(index) ? most : Dosing.doseForSaturationIndex(state, reagent, index, most);
	}

	/** Saturation index; {@value #NO_LIME} for water without calcium or carbonate, which has none. */
	public static double index(Water water) {
		return Math.max(NO_LIME, Speciation.of(water).calciteSaturationIndex());
	}

}
