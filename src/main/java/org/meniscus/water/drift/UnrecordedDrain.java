package org.meniscus.water.drift;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/**
 * The hypotheses that water was replaced and nobody wrote it down, or that the pool began to leak: all levels move towards the fill water,
 * once or more and more. A few particles take each up when the readings of a visit all but ask for it, with weights that make up for how
 * many do (importance sampling); the readings of this and later visits decide.
 */
final class UnrecordedDrain {

	/** Chance in a week. Assumption: about every eighth season. */
	private static final double CHANCE_PER_WEEK = 0.003;

	/** Weeks over which it may have gone unnoticed. Assumption. */
	private static final double MOST_WEEKS = 8;

	/** Share replaced: less is not told from other losses, more is seldom left unsaid. Assumption. */
	private static final double LEAST_SHARE = 0.2, MOST_SHARE = 0.8;

	/** Particles that take the hypothesis up, and those that take up a leak instead, which began since the last test. */
	private static final double PROPOSED = 0.25, PROPOSED_LEAKS = 0.15;

	/** Spread of the share within a particle. */
	private static final double SHARE_SPREAD = 0.06;

	/** Readings this far towards the fill water, in variances summed over levels, ask for the hypothesis. */
	private static final double SURPRISE = 3;

	/** Told from this probability on. */
	static final double TOLD_FROM = 0.75;

	private final LevelParticleFilter filter;

	/** Of the last one, by particle; {@link Long#MIN_VALUE} for none. */
	final long[] day;

	final double[] share;

	/** Day of the last visit with readings. */
	private long tested;

	/** @param day first day on which it was noticed @param share of the water, in the mean @param probability that there was one */
	record Finding(long day, double share, double probability) {
	}

	UnrecordedDrain(LevelParticleFilter filter, int particleCount) {
		this.filter = filter;
		this.day = new long[particleCount];
		Arrays.fill(day, Long.MIN_VALUE);
		this.share = new double[particleCount];
		this.tested = filter.day;
	}

	/** Before the readings of a visit are taken in. */
	void propose(SeasonVisit visit, double[] weight, XorShiftRandom random) {
		if (visit.readings().isEmpty()) {
			return;
		}
		double weeks = Math.min(MOST_WEEKS, (visit.day() - tested) / 7.0);
		boolean first = filter.seasonStart == visit.day();
		tested = visit.day();
		if (first || weeks <= 0 || surprise(visit) < SURPRISE) {
			return;
		}
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			double leakPrior = (filter.parameters.leak[i] == 0) ? Priors.LEAK_BEGINS * weeks : 0;
			double leakProposed = (leakPrior > 0) ? PROPOSED_LEAKS : 0;
			double prior = CHANCE_PER_WEEK * weeks;
			double drawn = random.uniform();
			if (drawn < PROPOSED) {
				weight[i] *= prior / PROPOSED;
				day[i] = visit.day();
				share[i] = random.uniform(LEAST_SHARE, MOST_SHARE);
				filter.replaceWater(i, share[i], SHARE_SPREAD);
			}
			else if (drawn < PROPOSED + leakProposed) {
				weight[i] *= leakPrior / leakProposed;
				beginLeak(i, random.uniform(0, 7 * weeks), random);
			}
			else {
				weight[i] *= (1 - prior - leakPrior) / (1 - PROPOSED - leakProposed);
			}
			sum += weight[i];
		}
		Resampling.normalize(weight, sum);
	}

	/** It has been leaking for so many days already: the balance up to this visit did not know. */
	private void beginLeak(int i, double days, XorShiftRandom random) {
		double leak = Priors.drawLeak(random);
		filter.parameters.leak[i] = leak;
		filter.replaceWater(i, 1 - Math.exp(-leak * days / filter.parameters.depth[i]), 0);
	}

	/** How far readings are off towards the fill water, in variances. */
	private double surprise(SeasonVisit visit) {
		double surprise = 0;
		for (int level : filter.followed) {
			SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
			if (reading == null || reading.qualifier() == ReadingQualifier.ABOVE) {
				continue;
			}
			double expected = filter.expected(level);
			double variance = filter.state.totalVariance(filter.state.level(level), filter.weight, expected)
					+ reading.precision().variance(expected);
			double fill = (filter.state.fill(level) != JointNormalParticles.NONE)
					? filter.state.expected(filter.state.fill(level), filter.weight) : 0;
			double towards = (expected - reading.value()) * Math.signum(expected - fill);
			surprise += Math.signum(towards) * towards * towards / variance;
		}
		return surprise;
	}

	/** @return null where it is not likely enough to be told */
	@Nullable
	Finding finding(double[] weight) {
		double probability = 0;
		double mean = 0;
		Map<Long, Double> days = new HashMap<>();
		for (int i = 0; i < weight.length; i++) {
			if (day[i] > filter.seasonStart) {
				probability += weight[i];
				mean += weight[i] * share[i];
				days.merge(day[i], weight[i], Double::sum);
			}
		}
		if (probability < TOLD_FROM) {
			return null;
		}
		long likeliest = days.entrySet().stream().max(Map.Entry.comparingByValue()).orElseThrow().getKey();
		return new Finding(likeliest, mean / probability, probability);
	}

	void gather(int[] from) {
		Resampling.gather(share, from);
		long[] old = day.clone();
		for (int i = 0; i < from.length; i++) {
			day[i] = old[from[i]];
		}
	}

}
