package org.meniscus.water.demand;

import org.meniscus.water.units.Band;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.RootFinder;

/**
 * How one pool uses up its free chlorine in the coming days: dFC/dt = supply - scale (firstOrderRate FC + zeroOrderRate). Sunlight
 * and the slow decay of chlorinated isocyanurates are of first order (Wojtowicz, Swimming Pool and Spa Industry 5(1):15-19; Nowell and
 * Hoigné 1992), bathers, leaves and growth taken as of zero order. The scale is lognormal with median one.
 *
 * @param firstOrderRate rate constant of the first-order part, 1/day
 * @param zeroOrderRate zero-order part, ppm FC a day
 * @param supply what a cell or feeder brings, ppm FC a day
 * @param logStandardError standard error of ln scale of the pool's mean use
 * @param logPredictionDeviation standard deviation of ln scale of one coming interval: {@code logStandardError} and the change from week
 * to week together
 * @param supplyDeviation standard deviation of the supply of one coming interval, ppm FC a day
 * @param intervals between visits it was learnt from; zero: expected of a pool of its kind
 */
public record ChlorineDemand(double firstOrderRate, double zeroOrderRate, double supply, double logStandardError,
		double logPredictionDeviation, double supplyDeviation,
		int intervals) {

	/** More closes in below what a dose can be measured to. */
	private static final int HALVINGS = 40;

	/** Standard normal quantiles at 0.1, 0.3, 0.5, 0.7 and 0.9. */
	private static final double[] QUINTILES = { -NormalDistribution.Z80, -0.5244005127080407, 0, 0.5244005127080407,
			NormalDistribution.Z80 };

	/** @throws IllegalArgumentException for a figure below zero or not finite */
	public ChlorineDemand {
		for (double figure : new double[]{ firstOrderRate, zeroOrderRate, supply, logStandardError, logPredictionDeviation,
				supplyDeviation }) {
			if (!(figure >= 0) || Double.isInfinite(figure)) {
				throw new IllegalArgumentException("below zero or not finite: " + figure);
			}
		}
	}

	/** The same use with another supply, ppm FC a day, known as well as this one's. */
	public ChlorineDemand withSupply(double newSupply) {
		return new ChlorineDemand(this.firstOrderRate, this.zeroOrderRate, newSupply, this.logStandardError, this.logPredictionDeviation,
				this.supplyDeviation, this.intervals);
	}

	/** A demand that is exactly known. */
	public static ChlorineDemand exactly(double firstOrderRate, double zeroOrderRate, double supply) {
		return new ChlorineDemand(firstOrderRate, zeroOrderRate, supply, 0, 0, 0, 0);
	}

	/** Whether it is this pool's own, not that of its kind. */
	public boolean learnt() {
		return this.intervals > 0;
	}

	/** What is used up a day at this FC, ppm, before any supply; the pool's mean lies in the band four times in five. */
	public Band use(double fc) {
		double use = this.firstOrderRate * fc + this.zeroOrderRate;
		double factor = Math.exp(NormalDistribution.Z80 * this.logStandardError);
		return new Band(use / factor, use, use * factor);
	}

	/** Median of FC after so many days, ppm. @param fc ppm @param days zero or more */
	public double expected(double fc, double days) {
		return after(fc, days, 1, this.supply);
	}

	/**
	 * Quantile of FC after so many days that is exceeded with this probability, ppm.
	 *
	 * @param startDeviation standard deviation of FC at the start: test and volume, ppm
	 * @param probability above 0 and below 1
	 */
	public double exceededQuantile(double fc, double startDeviation, double days, double probability) {
		return atQuantile(NormalDistribution.quantile(probability), fc, startDeviation, days);
	}

	/** Median of FC after so many days and its 80 % prediction interval, ppm. */
	public Band after(double fc, double startDeviation, double days) {
		double middle = expected(fc, days);
		return new Band(Math.min(middle, atQuantile(NormalDistribution.Z80, fc, startDeviation, days)), middle,
				Math.max(middle, atQuantile(-NormalDistribution.Z80, fc, startDeviation, days)));
	}

	/** Probability that FC after so many days is at least {@code least}. */
	public double exceedanceProbability(double fc, double startDeviation, double days, double least) {
		return NormalDistribution
			.cdf(RootFinder.bisect(-6, 6, HALVINGS, z -> atQuantile(z, fc, startDeviation, days) >= least).low());
	}

	/**
	 * Expected days, of so many from now, on which FC is below {@code least}. All uncertainties are taken as one of the use, known in five
	 * equally likely quantiles.
	 *
	 * @param fc now, ppm
	 * @param startDeviation standard deviation of it: test and volume, ppm
	 */
	public double expectedDaysBelow(double fc, double startDeviation, double days, double least) {
		double usual = (this.firstOrderRate * Math.max(fc, least) + this.zeroOrderRate) * days;
		double relative = (usual > 0) ? Math.hypot(startDeviation, this.supplyDeviation * days) / usual : 0;
		double deviation = Math.hypot(this.logPredictionDeviation, relative);
		double below = 0;
		for (double z : QUINTILES) {
			below += days - daysAtLeast(fc, days, Math.exp(z * deviation), least);
		}
		return below / QUINTILES.length;
	}

	/** Days, of so many from now, on which FC is at least {@code least}: until it has fallen below, or from when supply has lifted it there. */
	private double daysAtLeast(double fc, double days, double scale, double least) {
		double rate = scale * this.firstOrderRate;
		double net = this.supply - scale * this.zeroOrderRate;
		boolean held = net - rate * least >= 0;
		if (held == (fc >= least)) {
			return held ? days : 0;
		}
		double crossing = (rate < 1e-9) ? (least - fc) / net : Math.log((net - rate * fc) / (net - rate * least)) / rate;
		return held ? Math.max(0, days - crossing) : Math.min(days, crossing);
	}

	/** FC to start from so that at least {@code least} is left with this probability, ppm; {@code most} where that is not enough. */
	public double requiredStart(double least, StartDeviation startDeviation, double days, double probability, double most) {
		double z = NormalDistribution.quantile(probability);
		return RootFinder.bisect(0, most, HALVINGS, fc -> !(atQuantile(z, fc, startDeviation.of(fc), days) >= least)).high();
	}

	/** Uncertainties of use, supply and start, taken as independent. @param z standard normal quantile, above zero = less is left */
	private double atQuantile(double z, double fc, double startDeviation, double days) {
		double middle = expected(fc, days);
		double byUse = middle - after(fc, days, Math.exp(z * this.logPredictionDeviation), this.supply);
		double bySupply = middle - after(fc, days, 1, Math.max(0, this.supply - z * this.supplyDeviation));
		double byStart = startDeviation * z * Math.exp(-this.firstOrderRate * days);
		double total = Math.sqrt(byUse * byUse + bySupply * bySupply + byStart * byStart);
		return Math.max(0, (z >= 0) ? middle - total : middle + total);
	}

	/** Standard deviation of FC right after a dose that brings it to so much, ppm. */
	@FunctionalInterface
	public interface StartDeviation {

		double of(double fc);

	}

	private double after(double fc, double days, double scale, double supply) {
		return solution(fc, days, scale * this.firstOrderRate, supply - scale * this.zeroOrderRate);
	}

	/** FC after so many days of dFC/dt = net - rate FC; it does not go below zero. */
	static double solution(double fc, double days, double rate, double net) {
		if (rate < 1e-9) {
			return Math.max(0, fc + net * days);
		}
		double steadyState = net / rate;
		return Math.max(0, steadyState + (fc - steadyState) * Math.exp(-rate * days));
	}

}
