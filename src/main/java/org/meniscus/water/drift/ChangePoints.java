package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.IntToDoubleFunction;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.units.XorShiftRandom;

/**
 * The hypotheses of a sudden change that nobody wrote down: water was replaced, the pool began to leak, doses act in another volume from
 * some day on, or a technician's reagent for one level went bad. A few particles take each up when the readings of a visit all but ask for
 * it, with weights that make up for how many do (importance sampling); the readings of this and later visits of all levels decide between
 * them, slips of a test and unrecorded sources.
 */
final class ChangePoints {

	/** Chance of a drain in a week. Assumption: about every eighth season. */
	private static final double DRAIN_PER_WEEK = 0.003;

	/** Weeks over which it may have gone unnoticed. Assumption. */
	private static final double MOST_WEEKS = 8;

	/** Share replaced: less is not told from other losses, more is seldom left unsaid. Assumption. */
	private static final double LEAST_SHARE = 0.2, MOST_SHARE = 0.8;

	/** Spread of the share within a particle. */
	private static final double SHARE_SPREAD = 0.06;

	/** Chance in a week that a pool holds another volume than before (rebuilt, or the record corrected), and the spread of the factor. Assumption. */
	private static final double VOLUME_PER_WEEK = 0.001, VOLUME_SPREAD = 0.7;

	/** A smaller change of volume is a measuring error. Assumption. */
	private static final double LEAST_VOLUME_CHANGE = Math.log(1.25);

	/** So far off a volume may be that is right but for measuring, natural logarithm. Assumption. */
	private static final double LARGEST_ERROR = Math.log(2);

	/** Chance in a week that a technician's reagent for a level goes bad, and that a bad one is renewed. Assumption. */
	private static final double REAGENT_PER_WEEK = 0.0005, RENEWED_PER_WEEK = 0.02;

	/** What a bad reagent reads over what is true, natural logarithm, either way: less is a bias. Assumption. */
	private static final double LEAST_SHIFT = 0.22, MOST_SHIFT = 1.2;

	/** Shifts are proposed about the one that the reading asks for. */
	private static final double SHIFT_SPREAD = 0.15;

	/** Particles that take a hypothesis up. */
	private static final double DRAINS = 0.25, LEAKS = 0.15, VOLUMES = 0.08, REAGENTS = 0.06;

	/** Readings this far off, in variances, ask for a hypothesis: towards the fill water, summed over levels; one level alone. */
	private static final double SURPRISE = 3, REAGENT_SURPRISE = 4;

	/** Told from this probability on. */
	static final double TOLD_FROM = 0.7;

	private static final long NEVER = Long.MIN_VALUE;

	private final LevelParticleFilter filter;

	private final int particleCount;

	/** Of the last drain, by particle; {@link Long#MIN_VALUE} for none. */
	final long[] drainDay;

	final double[] share;

	/** From when on doses act in another volume, likewise, and what they did before. */
	private final long[] volumeDay;

	private final double[] doseFactorBefore;

	private final Map<TechnicianBias.Key, Reagent> reagents = new HashMap<>();

	/** Of its own, so that what begins by itself leaves all other draws as they are. */
	private final XorShiftRandom passing = new XorShiftRandom(3);

	/** Day of the last visit with readings. */
	private long tested;

	/** Of one technician for one level, by particle: shift of the logarithm of what is read, zero while it is good. */
	private static final class Reagent {

		private final double[] shift;

		private final long[] day;

		Reagent(int particleCount) {
			this.shift = new double[particleCount];
			this.day = new long[particleCount];
			Arrays.fill(day, NEVER);
		}

	}

	/**
	 * @param day first day on which it was noticed
	 * @param size share of the water, factor of what doses do, or read over true; in the mean
	 * @param probability that there was one
	 */
	record Finding(long day, double size, double probability) {
	}

	/**
	 * By particle.
	 *
	 * @param prior chance of it
	 * @param proposed share of particles that take it up
	 * @param adoption takes it up; prior over proposed density of what was drawn, 1 where it was drawn from the prior
	 */
	private record Hypothesis(IntToDoubleFunction prior, double proposed, IntToDoubleFunction adoption) {
	}

	ChangePoints(LevelParticleFilter filter, int particleCount) {
		this.filter = filter;
		this.particleCount = particleCount;
		this.drainDay = new long[particleCount];
		this.share = new double[particleCount];
		this.volumeDay = new long[particleCount];
		this.doseFactorBefore = new double[particleCount];
		Arrays.fill(drainDay, NEVER);
		Arrays.fill(volumeDay, NEVER);
		this.tested = filter.day;
	}

	/** So many weeks pass in one particle: volumes change and reagents are renewed now and then. */
	void pass(int i, double weeks) {
		if (passing.chance(VOLUME_PER_WEEK * weeks) && isAboutRight(i)) {
			changeVolume(i, filter.day, new double[SlowLevels.COUNT]);
		}
		for (Reagent reagent : reagents.values()) {
			if (reagent.shift[i] != 0 && passing.chance(RENEWED_PER_WEEK * weeks)) {
				reagent.shift[i] = 0;
				reagent.day[i] = NEVER;
			}
		}
	}

	/** Shift of the logarithm of what this technician reads of a level, by particle; null while nothing speaks for one. */
	double @Nullable [] shift(@Nullable String technician, int level) {
		Reagent reagent = reagents.get(key(technician, level));
		return (reagent != null) ? reagent.shift : null;
	}

	/** Before the readings of a visit are taken in. */
	void propose(SeasonVisit visit, double[] weight, XorShiftRandom random) {
		if (visit.readings().isEmpty()) {
			return;
		}
		long since = tested;
		double weeks = Math.min(MOST_WEEKS, (visit.day() - since) / 7.0);
		tested = visit.day();
		if (filter.seasonStart == visit.day() || weeks <= 0) {
			return;
		}
		List<Hypothesis> hypotheses = new ArrayList<>();
		proposeWaterLosses(hypotheses, visit, weeks, random);
		proposeVolume(hypotheses, visit, since, weeks);
		proposeReagents(hypotheses, visit, weeks, random);
		if (!hypotheses.isEmpty()) {
			adopt(hypotheses, weight, random);
		}
	}

	private static void adopt(List<Hypothesis> hypotheses, double[] weight, XorShiftRandom random) {
		double sum = 0;
		for (int i = 0; i < weight.length; i++) {
			double priors = 0;
			double proposed = 0;
			for (Hypothesis one : hypotheses) {
				double prior = one.prior.applyAsDouble(i);
				priors += prior;
				proposed += (prior > 0) ? one.proposed : 0;
			}
			double drawn = random.uniform();
			double factor = (1 - priors) / (1 - proposed);
			for (Hypothesis one : hypotheses) {
				double prior = one.prior.applyAsDouble(i);
				double most = (prior > 0) ? one.proposed : 0;
				if (drawn >= 0 && drawn < most) {
					factor = prior / most * one.adoption.applyAsDouble(i);
				}
				drawn -= most;
			}
			weight[i] *= factor;
			sum += weight[i];
		}
		Resampling.normalize(weight, sum);
	}

	private void proposeWaterLosses(List<Hypothesis> hypotheses, SeasonVisit visit, double weeks, XorShiftRandom random) {
		if (surprise(visit) < SURPRISE) {
			return;
		}
		hypotheses.add(new Hypothesis(i -> DRAIN_PER_WEEK * weeks, DRAINS, i -> {
			drainDay[i] = visit.day();
			share[i] = random.uniform(LEAST_SHARE, MOST_SHARE);
			filter.replaceWater(i, share[i], SHARE_SPREAD);
			return 1;
		}));
		hypotheses.add(new Hypothesis(i -> (filter.parameters.leak[i] == 0) ? Priors.LEAK_BEGINS * weeks : 0, LEAKS, i -> {
			beginLeak(i, random.uniform(0, 7 * weeks), random);
			return 1;
		}));
	}

	/** It has been leaking for so many days already: the balance up to this visit did not know. */
	private void beginLeak(int i, double days, XorShiftRandom random) {
		double leak = Priors.drawLeak(random);
		filter.parameters.leak[i] = leak;
		filter.replaceWater(i, 1 - Math.exp(-leak * days / filter.parameters.depth[i]), 0);
	}

	/** Where doses since the last test should be seen in the readings, and these are off. */
	private void proposeVolume(List<Hypothesis> hypotheses, SeasonVisit visit, long since, double weeks) {
		double[] dosed = new double[SlowLevels.COUNT];
		boolean asked = false;
		for (int level : filter.followed) {
			dosed[level] = Arrays.stream(filter.dosing.total(level, since, (int) (visit.day() - since))).sum();
			SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
			if (reading != null && dosed[level] > 0) {
				double expected = expectedReading(visit.technician(), level);
				double variance = variance(level, expected, reading);
				asked |= dosed[level] * dosed[level] > variance && square(reading.value() - expected) > SURPRISE * variance;
			}
		}
		if (asked) {
			hypotheses.add(new Hypothesis(i -> isAboutRight(i) ? VOLUME_PER_WEEK * weeks : 0, VOLUMES, i -> {
				changeVolume(i, since, dosed);
				return 1;
			}));
		}
	}

	/** A volume that was wrong by far from the start is another hypothesis: {@link Priors}. */
	private boolean isAboutRight(int i) {
		return Math.abs(Math.log(filter.state.mean(filter.state.doseFactor, i))) < LARGEST_ERROR;
	}

	/** @param dosed of each level since then, ppm in the recorded volume: the factor that is not known yet has moved it */
	private void changeVolume(int i, long from, double[] dosed) {
		JointNormalParticles state = filter.state;
		volumeDay[i] = from;
		doseFactorBefore[i] = state.mean(state.doseFactor, i);
		double variance = square(VOLUME_SPREAD * doseFactorBefore[i]);
		state.addCovariance(state.doseFactor, state.doseFactor, i, variance);
		for (int one : filter.followed) {
			if (dosed[one] > 0) {
				state.addCovariance(state.level(one), state.doseFactor, i, dosed[one] * variance);
				state.addCovariance(state.doseFactor, state.level(one), i, dosed[one] * variance);
				for (int other : filter.followed) {
					state.addCovariance(state.level(one), state.level(other), i, dosed[one] * dosed[other] * variance);
				}
			}
		}
	}

	private void proposeReagents(List<Hypothesis> hypotheses, SeasonVisit visit, double weeks, XorShiftRandom random) {
		for (int level : filter.followed) {
			SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
			if (reading == null || reading.qualifier() != ReadingQualifier.EXACT || reading.value() <= 0) {
				continue;
			}
			double expected = expectedReading(visit.technician(), level);
			if (expected <= 0 || square(reading.value() - expected) < REAGENT_SURPRISE * variance(level, expected, reading)) {
				continue;
			}
			Reagent reagent = reagents.computeIfAbsent(key(visit.technician(), level), unused -> new Reagent(particleCount));
			double asked = Math.log(reading.value() / expected);
			hypotheses.add(new Hypothesis(i -> (reagent.shift[i] == 0) ? REAGENT_PER_WEEK * weeks : 0, REAGENTS, i -> {
				double normal = random.normal();
				double shift = asked + SHIFT_SPREAD * normal;
				if (Math.abs(shift) < LEAST_SHIFT || Math.abs(shift) > MOST_SHIFT) {
					return 0;
				}
				reagent.shift[i] = shift;
				reagent.day[i] = visit.day();
				double density = Math.exp(-0.5 * normal * normal) / (SHIFT_SPREAD * Math.sqrt(2 * Math.PI));
				return 1 / (2 * (MOST_SHIFT - LEAST_SHIFT)) / density;
			}));
		}
	}

	/** What this technician is expected to read, shifts counted in, ppm. */
	private double expectedReading(@Nullable String technician, int level) {
		double[] shift = shift(technician, level);
		double sum = 0;
		for (int i = 0; i < particleCount; i++) {
			sum += filter.weight[i] * filter.state.mean(filter.state.level(level), i) * ((shift != null) ? Math.exp(shift[i]) : 1);
		}
		return sum;
	}

	private double variance(int level, double expected, SeasonVisit.Reading reading) {
		return filter.state.totalVariance(filter.state.level(level), filter.weight, filter.expected(level))
				+ reading.precision().variance(expected);
	}

	/** How far readings are off towards the fill water, in variances. */
	private double surprise(SeasonVisit visit) {
		double surprise = 0;
		for (int level : filter.followed) {
			SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
			if (reading == null || reading.qualifier() == ReadingQualifier.ABOVE) {
				continue;
			}
			double expected = expectedReading(visit.technician(), level);
			double fill = (filter.state.fill(level) != JointNormalParticles.NONE)
					? filter.state.expected(filter.state.fill(level), filter.weight) : 0;
			double towards = (expected - reading.value()) * Math.signum(expected - fill);
			surprise += Math.signum(towards) * towards * towards / variance(level, expected, reading);
		}
		return surprise;
	}

	/** Water replaced. @return null where it is not likely enough to be told */
	@Nullable
	Finding drain() {
		return finding(drainDay, i -> share[i]);
	}

	/** Doses act otherwise than before. @return null where it is not likely enough to be told */
	@Nullable
	Finding volume() {
		long[] changed = volumeDay.clone();
		for (int i = 0; i < particleCount; i++) {
			changed[i] = (Math.abs(Math.log(doseFactorChange(i))) > LEAST_VOLUME_CHANGE) ? changed[i] : NEVER;
		}
		return finding(changed, this::doseFactorChange);
	}

	private double doseFactorChange(int i) {
		return (volumeDay[i] == NEVER) ? 1 : filter.state.mean(filter.state.doseFactor, i) / doseFactorBefore[i];
	}

	/** True change of a level per ppm that a dose of this day makes in the recorded volume. */
	double doseFactor(int i, long day) {
		return (day < volumeDay[i]) ? doseFactorBefore[i] : filter.state.mean(filter.state.doseFactor, i);
	}

	/** A reagent for this level that reads otherwise than it should. @return null where none is likely enough to be told */
	@Nullable
	Finding reagent(Level level) {
		return reagents.entrySet()
			.stream()
			.filter(entry -> entry.getKey().level() == level)
			.map(entry -> finding(entry.getValue().day, i -> Math.exp(entry.getValue().shift[i])))
			.filter(Objects::nonNull)
			.max(Comparator.comparingDouble(Finding::probability))
			.orElse(null);
	}

	private @Nullable Finding finding(long[] since, IntToDoubleFunction size) {
		double probability = 0;
		double mean = 0;
		Map<Long, Double> days = new HashMap<>();
		for (int i = 0; i < particleCount; i++) {
			if (since[i] > filter.seasonStart) {
				probability += filter.weight[i];
				mean += filter.weight[i] * size.applyAsDouble(i);
				days.merge(since[i], filter.weight[i], Double::sum);
			}
		}
		if (probability < TOLD_FROM) {
			return null;
		}
		long likeliest = days.entrySet().stream().max(Map.Entry.comparingByValue()).orElseThrow().getKey();
		return new Finding(likeliest, mean / probability, probability);
	}

	private static TechnicianBias.Key key(@Nullable String technician, int level) {
		return new TechnicianBias.Key((technician != null) ? technician : "", SlowLevels.ALL.get(level));
	}

	private static double square(double x) {
		return x * x;
	}

	void gather(int[] from) {
		Resampling.gather(share, from);
		Resampling.gather(doseFactorBefore, from);
		Resampling.gather(drainDay, from);
		Resampling.gather(volumeDay, from);
		for (Reagent reagent : reagents.values()) {
			Resampling.gather(reagent.shift, from);
			Resampling.gather(reagent.day, from);
		}
	}

}
