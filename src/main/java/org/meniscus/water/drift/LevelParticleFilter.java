package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Rao-Blackwellized particle filter of one pool's slow levels. Each particle holds a value of every unknown parameter of the pool and,
 * given these, each level as a normal distribution that is updated exactly; readings weigh the particles. Equations, priors and their
 * sources: docs/season.md.
 */
final class LevelParticleFilter {

	/**
	 * What a particle filter reckons with beside the balance of mass. Without any of it, and with all particles alike, the filter is a Kalman
	 * filter.
	 *
	 * @param processNoise standard deviation a day of a level that nothing explains, share of it
	 * @param outlierShare of readings that have nothing to do with the level
	 * @param switching whether leaks and unrecorded sources begin and end
	 */
	record NoiseModel(double processNoise, double outlierShare, boolean switching) {

		static final NoiseModel POOL = new NoiseModel(0.001, 0.02, true);

	}

	/** What is replaced is told by eye: spread of the true share over the recorded one. Assumption. */
	private static final double REPLACED_SPREAD = 0.12;

	/** Particles in which levels go on after a long time without visits, and most of the water replaced meanwhile. Assumption. */
	private static final double GOES_ON = 0.7, MOST_IN_WINTER = 0.6;

	final SeasonPool pool;

	final Weather weather;

	final int particleCount;

	private final NoiseModel noiseModel;

	private final XorShiftRandom random;

	private final Priors priors;

	final PoolParameters parameters;

	/** Levels, doses, fill water, unrecorded source and technicians in every particle. */
	final JointNormalParticles state;

	private final boolean[] follows;

	/** Indices of the levels that are followed. */
	final int[] followed;

	final double[] weight;

	/** Height of the water above the operating level, mm. */
	final double[] height;

	final UnrecordedSource unrecordedSource;

	final ChangePoints changePoints;

	private final TechnicianBiasParticles technicianBias;

	final DosingRecords dosing;

	final long start;

	/** Everything before this day has happened. */
	long day;

	/** The start, or the first visit after a long gap. */
	long seasonStart;

	private boolean backwashed;

	/** Days of backwashes. */
	final Set<Long> backwashes = new HashSet<>();

	/** Share of the water replaced by day. */
	final Map<Long, Double> drained = new HashMap<>();

	final List<DriftNote> notes = new ArrayList<>();

	LevelParticleFilter(SeasonRecord record, Weather weather, int particleCount, long start, boolean[] follows, long seed,
			NoiseModel noiseModel) {
		this.pool = record.pool();
		this.weather = weather;
		this.particleCount = particleCount;
		this.start = start;
		this.day = start;
		this.seasonStart = start;
		this.noiseModel = noiseModel;
		this.random = new XorShiftRandom(seed);
		this.priors = new Priors(pool, record.fillHardness(), random);
		this.follows = follows;
		this.followed = IntStream.range(0, SlowLevels.COUNT).filter(level -> follows[level]).toArray();
		this.parameters = new PoolParameters(particleCount);
		this.state = new JointNormalParticles(particleCount, followed);
		this.unrecordedSource = new UnrecordedSource(state);
		this.technicianBias = new TechnicianBiasParticles(state);
		this.changePoints = new ChangePoints(this, particleCount);
		this.height = new double[particleCount];
		this.weight = new double[particleCount];
		this.dosing = new DosingRecords(start, weather, particleCount, notes);
		Arrays.fill(weight, 1.0 / particleCount);
		priors.draw(parameters, state, unrecordedSource, height);
		for (int i = 0; i < particleCount; i++) {
			drawLevels(i);
		}
		startSeason();
	}

	/**
	 * After a long time without visits the parameters are still believed. Of the levels, most particles go on from what they were, with a share
	 * of the water replaced over the winter; in the others they begin anew, as somebody else may have set them right.
	 */
	void restart() {
		for (int i = 0; i < particleCount; i++) {
			if (random.chance(GOES_ON)) {
				replaceWater(i, random.uniform(0, MOST_IN_WINTER), REPLACED_SPREAD * MOST_IN_WINTER);
			}
			else {
				drawLevels(i);
			}
		}
		startSeason();
	}

	private void drawLevels(int i) {
		for (int level : followed) {
			priors.drawLevel(level, state, i);
		}
	}

	private void startSeason() {
		seasonStart = day;
		for (int level : followed) {
			for (int i = 0; i < particleCount; i++) {
				state.startHere(level, i);
			}
		}
	}

	boolean follows(int level) {
		return follows[level];
	}

	double expected(int level) {
		return state.expected(state.level(level), weight);
	}

	/** Recorded volume over the geometric mean of what doses do to it. */
	double estimatedVolume(double recordedVolume) {
		double sum = 0;
		for (int i = 0; i < particleCount; i++) {
			sum += weight[i] * Math.log(state.mean(state.doseFactor, i));
		}
		return recordedVolume / Math.exp(sum);
	}

	/** @param perDay mm, if there is one */
	record Leak(double probability, double perDay) {
	}

	/** Whether the pool leaks now; empty where no particle says so. */
	Optional<Leak> leak() {
		double probability = 0;
		double perDay = 0;
		for (int i = 0; i < particleCount; i++) {
			if (parameters.leak[i] > 0) {
				probability += weight[i];
				perDay += weight[i] * parameters.leak[i];
			}
		}
		return (probability > 0) ? Optional.of(new Leak(probability, perDay / probability)) : Optional.empty();
	}

	/** Lets the days before {@code to} pass. */
	void advance(long to) {
		int days = (int) (to - day);
		if (days <= 0) {
			return;
		}
		DailyBalance balance = new DailyBalance(pool.autofill(), weather, parameters, day, days);
		double[][] recorded = new double[SlowLevels.COUNT][];
		for (int level : followed) {
			recorded[level] = dosing.total(level, day, days);
		}
		double[] rain = new double[days];
		double[] backwashesByDay = new double[days];
		backwashesByDay[0] = backwashed ? 1 : 0;
		for (int i = 0; i < particleCount; i++) {
			double[] scenario = weather.rain[Weather.rainScenario(i, day / 7)];
			for (int d = 0; d < days; d++) {
				rain[d] = scenario[balance.dayOfYear[d]];
			}
			balance.run(i, height[i], rain, backwashesByDay);
			height[i] = balance.height();
			if (noiseModel.switching()) {
				switchSources(i, days);
			}
			for (int level : followed) {
				predict(level, i, recorded[level], balance);
			}
		}
		backwashed = false;
		day = to;
	}

	/** Unrecorded sources and leaks begin and end. */
	private void switchSources(int i, int days) {
		double weeks = days / 7.0;
		changePoints.pass(i, weeks);
		if (!unrecordedSource.present(i)) {
			if (random.chance(Priors.UNRECORDED_BEGINS * weeks)) {
				unrecordedSource.begin(i, random);
			}
		}
		else if (random.chance(Priors.UNRECORDED_ENDS * weeks)) {
			unrecordedSource.end(i);
		}
		if (parameters.leak[i] == 0) {
			if (random.chance(Priors.LEAK_BEGINS * weeks)) {
				parameters.leak[i] = Priors.drawLeak(random);
			}
		}
		else if (random.chance(Priors.LEAK_ENDS * weeks)) {
			parameters.leak[i] = 0;
		}
	}

	/** One level of one particle through the days of a balance. */
	private void predict(int level, int i, double[] recorded, DailyBalance balance) {
		int from = (int) (day - start);
		double unrecordedRate = dosing.unrecordedRate(level, i);
		double doseFactor = state.mean(state.doseFactor, i);
		double fill = state.fillMean(level, i);
		double source = unrecordedSource.raises(level, i) ? 1 : 0;
		double sourceRate = source * state.mean(state.unrecordedRate, i);
		boolean plaster = level == SlowLevels.CH && parameters.plaster[i] > 0;
		double mean = state.mean(state.level(level), i);
		JointNormalParticles.Step step = new JointNormalParticles.Step();
		for (int d = 0; d < balance.days; d++) {
			double demand = weather.demand[balance.dayOfYear[d]];
			double dose = recorded[d] + unrecordedRate * demand;
			double released = plaster ? parameters.plasterRelease(i, from + d) : 0;
			double retention = balance.retention(level, d, mean);
			mean = balance.next(d, retention, mean, doseFactor * dose + sourceRate * demand + released, fill);
			double noise = noiseModel.processNoise() * mean;
			step.day(retention, balance.dosed(d) * dose, source * balance.dosed(d) * demand, balance.filled(d), noise * noise);
		}
		state.transform(level, i, mean, step);
	}

	/** Whether CYA and CH of a visit stand in each other's place; then a note says so and neither should be used. */
	boolean readingsSwapped(SeasonVisit visit) {
		SeasonVisit.Reading cya = visit.readings().get(Level.CYA);
		SeasonVisit.Reading ch = visit.readings().get(Level.CH);
		if (cya == null || ch == null || cya.qualifier() != ReadingQualifier.EXACT || ch.qualifier() != ReadingQualifier.EXACT) {
			return false;
		}
		double straight = squaredDeviation(SlowLevels.CYA, cya.value(), cya.precision())
				+ squaredDeviation(SlowLevels.CH, ch.value(), ch.precision());
		double crossed = squaredDeviation(SlowLevels.CYA, ch.value(), cya.precision())
				+ squaredDeviation(SlowLevels.CH, cya.value(), ch.precision());
		// crossed fits well, straight does not at all
		boolean swapped = crossed < 12 && straight > crossed + 20;
		if (swapped) {
			notes.add(DriftNote.of(DriftNote.Code.READINGS_SWAPPED, null, visit.day()));
		}
		return swapped;
	}

	/** Of a reading from what is expected, in variances. */
	private double squaredDeviation(int level, double y, TestPrecision precision) {
		double expected = expected(level);
		double variance = state.totalVariance(state.level(level), weight, expected);
		return (y - expected) * (y - expected) / (variance + precision.repeatabilityVariance(Math.min(y, expected)));
	}

	/** Takes in what was tested; levels are those of the beginning of the day. */
	void assimilate(SeasonVisit visit, TechnicianBias known) {
		if (noiseModel.switching()) {
			changePoints.propose(visit, weight, random);
		}
		for (int level : followed) {
			SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
			if (reading != null) {
				int bias = technicianBias.of(visit.technician(), level, reading.precision(), known, weight);
				ReadingAssimilation assimilation = new ReadingAssimilation(state, state.level(level), bias, reading,
						changePoints.shift(visit.technician(), level));
				assimilation.update(weight, noiseModel.outlierShare(), random);
				if (assimilation.outlier()) {
					notes.add(DriftNote.of(DriftNote.Code.READING_DOUBTED, SlowLevels.ALL.get(level), visit.day(), reading.value(),
							assimilation.expected()));
				}
			}
		}
		resampleIfDegenerate();
	}

	/** What this pool's own readings say of a technician's bias: precision, and precision times mean; null when nothing. */
	double @Nullable [] biasLikelihood(TechnicianBias.Key key) {
		return technicianBias.likelihood(key, weight);
	}

	/** Takes in the routine doses of a visit, and the gaps in their records. */
	void addRoutineDoses(SeasonVisit visit) {
		dosing.addRoutine(visit, weight, parameters.unrecordedDoses, random);
		resampleIfDegenerate();
	}

	/** Takes in what a visit did beyond the routine: water replacement, backwash, products that set a level right. */
	void addCorrections(SeasonVisit visit) {
		if (visit.replaced() > 0) {
			replaceWater(visit.day(), visit.replaced());
		}
		if (visit.backwashed()) {
			backwashed = true;
			backwashes.add(visit.day());
		}
		dosing.addCorrections(visit);
	}

	private void replaceWater(long on, double share) {
		drained.merge(on, share, (one, other) -> 1 - (1 - one) * (1 - other));
		for (int i = 0; i < particleCount; i++) {
			replaceWater(i, share, noiseModel.switching() ? REPLACED_SPREAD * share : 0);
		}
	}

	/** In one particle. @param spread standard deviation of the share */
	void replaceWater(int i, double share, double spread) {
		JointNormalParticles.Step step = new JointNormalParticles.Step();
		step.day(1 - share, 0, 0, share, 0);
		double[] off = new double[SlowLevels.COUNT];
		for (int level : followed) {
			double mean = state.mean(state.level(level), i);
			off[level] = state.fillMean(level, i) - mean;
			state.transform(level, i, mean + share * off[level], step);
		}
		// one share for all levels, so that they are off together
		for (int one : followed) {
			for (int other : followed) {
				state.addCovariance(state.level(one), state.level(other), i, spread * spread * off[one] * off[other]);
			}
		}
	}

	/** Resamples once the effective number of particles is below half, and jitters their parameters. */
	private void resampleIfDegenerate() {
		if (Resampling.effectiveSampleSize(weight) > 0.5 * particleCount) {
			return;
		}
		int[] from = Resampling.systematicResample(weight, particleCount);
		Arrays.fill(weight, 1.0 / particleCount);
		state.gather(from);
		Resampling.gather(height, from);
		unrecordedSource.gather(from);
		changePoints.gather(from);
		dosing.gather(from);
		for (double[] values : parameters.all()) {
			Resampling.gather(values, from);
			Resampling.jitter(values, true, random);
		}
	}

	/** Expected backwashes a day to come: the pool's own so far, and at first what such filters usually need. */
	double backwashRate() {
		double usual = pool.sandFilter() ? 1.0 / Priors.BACKWASH_INTERVAL_DAYS : 0;
		return (backwashes.size() + usual * Priors.BACKWASH_PRIOR_DAYS) / (day - start + Priors.BACKWASH_PRIOR_DAYS);
	}

}
