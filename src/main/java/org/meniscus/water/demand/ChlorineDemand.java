package org.meniscus.water.demand;

import org.meniscus.water.units.Band;
import org.meniscus.water.units.NormalDistribution;

/**
 * How one pool uses up its free chlorine in the coming days: dFC/dt = supply - scale (proportional FC + constant). Sunlight and the
 * slow decay of chlorinated isocyanurates take a share of what is there (first order: Wojtowicz, Swimming Pool and Spa Industry
 * 5(1):15-19; Nowell and Hoigné 1992), bathers, leaves and growth take an amount. The scale is lognormal around one.
 *
 * @param proportional share lost a day of the FC that is there, 1/day
 * @param constant lost a day whatever is there, ppm FC a day
 * @param supply what a cell or feeder brings, ppm FC a day
 * @param doubt s.d. of ln scale of the pool's mean use: how well it is known
 * @param spread s.d. of ln scale of one coming interval, {@code doubt} and the change from week to week together
 * @param supplySpread s.d. of the supply of one coming interval, ppm FC a day
 * @param intervals between visits it was learnt from; zero: expected of a pool of its kind
 */
public record ChlorineDemand(double proportional, double constant, double supply, double doubt, double spread, double supplySpread,
		int intervals) {

	/** @throws IllegalArgumentException for a figure below zero or not finite */
	public ChlorineDemand {
		for (double figure : new double[]{ proportional, constant, supply, doubt, spread, supplySpread }) {
			if (!(figure >= 0) || Double.isInfinite(figure)) {
				throw new IllegalArgumentException("below zero or not finite: " + figure);
			}
		}
	}

	/** A demand that is exactly known. */
	public static ChlorineDemand exactly(double proportional, double constant, double supply) {
		return new ChlorineDemand(proportional, constant, supply, 0, 0, 0, 0);
	}

	/** Whether it is this pool's own, not that of its kind. */
	public boolean learnt() {
		return this.intervals > 0;
	}

	/** What is used up a day at this FC, ppm, before any supply; the pool's mean lies in the band four times in five. */
	public Band use(double fc) {
		double use = this.proportional * fc + this.constant;
		double factor = Math.exp(NormalDistribution.Z80 * this.doubt);
		return new Band(use / factor, use, use * factor);
	}

	/** FC after so many days, as expected in the middle. @param fc ppm @param days zero or more */
	public double expected(double fc, double days) {
		return after(fc, days, 1, this.supply);
	}

	/**
	 * FC that is passed with this chance: in a share {@code chance} of intervals more is left.
	 *
	 * @param startSpread s.d. of FC at the start: test and volume, ppm
	 * @param chance above 0 and below 1
	 */
	public double left(double fc, double startSpread, double days, double chance) {
		return leftAt(NormalDistribution.quantile(chance), fc, startSpread, days);
	}

	/** FC after so many days: expected, and the interval that holds four times in five. */
	public Band after(double fc, double startSpread, double days) {
		double middle = expected(fc, days);
		return new Band(Math.min(middle, leftAt(NormalDistribution.Z80, fc, startSpread, days)), middle,
				Math.max(middle, leftAt(-NormalDistribution.Z80, fc, startSpread, days)));
	}

	/** Chance that at least {@code least} is left. */
	public double chance(double fc, double startSpread, double days, double least) {
		double low = -6;
		double high = 6;
		for (int step = 0; step < 40; step++) {
			double middle = 0.5 * (low + high);
			if (leftAt(middle, fc, startSpread, days) >= least) {
				low = middle;
			}
			else {
				high = middle;
			}
		}
		return NormalDistribution.cdf(low);
	}

	/** FC to start from so that {@code least} is left with this chance; what no start can hold ends at {@code most}. */
	public double needed(double least, StartSpread startSpread, double days, double chance, double most) {
		double z = NormalDistribution.quantile(chance);
		double low = 0;
		double high = most;
		for (int step = 0; step < 40; step++) {
			double middle = 0.5 * (low + high);
			if (leftAt(z, middle, startSpread.of(middle), days) >= least) {
				high = middle;
			}
			else {
				low = middle;
			}
		}
		return high;
	}

	/** The three doubts, use, supply and start, taken as independent. @param z standard normal quantile, above zero = less is left */
	private double leftAt(double z, double fc, double startSpread, double days) {
		double middle = expected(fc, days);
		double byUse = middle - after(fc, days, Math.exp(z * this.spread), this.supply);
		double bySupply = middle - after(fc, days, 1, Math.max(0, this.supply - z * this.supplySpread));
		double byStart = startSpread * z * Math.exp(-this.proportional * days);
		double all = Math.sqrt(byUse * byUse + bySupply * bySupply + byStart * byStart);
		return Math.max(0, (z >= 0) ? middle - all : middle + all);
	}

	/** S.d. of FC right after a dose that brings it to so much, ppm. */
	@FunctionalInterface
	public interface StartSpread {

		double of(double fc);

	}

	private double after(double fc, double days, double scale, double supply) {
		return solution(fc, days, scale * this.proportional, supply - scale * this.constant);
	}

	/** FC after so many days of dFC/dt = net - rate FC; it does not go below zero. */
	static double solution(double fc, double days, double rate, double net) {
		if (rate < 1e-9) {
			return Math.max(0, fc + net * days);
		}
		double rest = net / rate;
		return Math.max(0, rest + (fc - rest) * Math.exp(-rate * days));
	}

}
