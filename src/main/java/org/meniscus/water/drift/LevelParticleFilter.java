package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
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

	final SeasonPool pool;

	final Weather weather;

	final int particleCount;

	private final NoiseModel noiseModel;

	private final XorShiftRandom random;

	final PoolParameters parameters;

	/** By level; empty where a level is not followed. */
	final ParticleLevels[] levels = new ParticleLevels[SlowLevels.COUNT];

	private final boolean[] follows;

	/** Indices of the levels that are followed. */
	final int[] followed;

	final double[] weight;

	/** Height of the water above the operating level, mm. */
	final double[] height;

	final UnrecordedSource unrecordedSource;

	private final TechnicianBiasParticles technicianBias = new TechnicianBiasParticles();

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

	LevelParticleFilter(SeasonPool pool, Weather weather, int particleCount, long start, boolean[] follows, long seed,
			NoiseModel noiseModel) {
		this.pool = pool;
		this.weather = weather;
		this.particleCount = particleCount;
		this.start = start;
		this.day = start;
		this.seasonStart = start;
		this.noiseModel = noiseModel;
		this.random = new XorShiftRandom(seed);
		this.follows = follows;
		this.followed = IntStream.range(0, SlowLevels.COUNT).filter(level -> follows[level]).toArray();
		this.parameters = new PoolParameters(particleCount);
		this.unrecordedSource = new UnrecordedSource(particleCount);
		this.height = new double[particleCount];
		this.weight = new double[particleCount];
		this.dosing = new DosingRecords(start, weather, particleCount, notes);
		Arrays.fill(weight, 1.0 / particleCount);
		new Priors(pool, random).draw(parameters, unrecordedSource, height);
		Arrays.setAll(levels, level -> new ParticleLevels(follows[level] ? particleCount : 0));
		restart();
	}

	/** The parameters are still believed, the levels are not: after a long time without visits. */
	void restart() {
		seasonStart = day;
		for (int level : followed) {
			levels[level].reset(Priors.OPENING[level][0], Priors.OPENING[level][1]);
			unrecordedSource.forget(level);
		}
	}

	boolean follows(int level) {
		return follows[level];
	}

	double expected(int level) {
		return levels[level].expected(weight);
	}

	/** Recorded volume over the geometric mean of what doses do to it. */
	double estimatedVolume(double recordedVolume) {
		double sum = 0;
		for (int i = 0; i < particleCount; i++) {
			sum += weight[i] * Math.log(parameters.doseFactor[i]);
		}
		return recordedVolume / Math.exp(sum);
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
		ParticleLevels state = levels[level];
		UnrecordedSource source = unrecordedSource;
		int from = (int) (day - start);
		double unrecordedRate = dosing.unrecordedRate(level, i);
		double doseFactor = parameters.doseFactor[i];
		double fill = parameters.fill[level][i];
		boolean raised = source.raises(level, i);
		boolean plaster = level == SlowLevels.CH && parameters.plaster[i] > 0;
		double mean = state.mean[i];
		double variance = state.variance[i];
		double covarianceWithStart = state.covarianceWithStart[i];
		for (int d = 0; d < balance.days; d++) {
			double demand = weather.demand[balance.dayOfYear[d]];
			double dose = doseFactor * (recorded[d] + unrecordedRate * demand) + (plaster ? parameters.plasterRelease(i, from + d) : 0);
			double retention = balance.retention(level, d, mean);
			mean = balance.next(d, retention, mean, dose, fill);
			double noise = noiseModel.processNoise() * mean;
			variance = retention * retention * variance + noise * noise;
			covarianceWithStart *= retention;
			if (raised) {
				double effect = balance.dosed(d) * demand;
				mean += effect * source.mean[i];
				variance += effect * (2 * retention * source.covarianceWithLevel[i] + effect * source.variance[i]);
				covarianceWithStart += effect * source.covarianceWithStart[i];
				source.covarianceWithLevel[i] = retention * source.covarianceWithLevel[i] + effect * source.variance[i];
			}
		}
		state.mean[i] = mean;
		state.variance[i] = variance;
		state.covarianceWithStart[i] = covarianceWithStart;
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
		double variance = levels[level].totalVariance(weight, expected);
		return (y - expected) * (y - expected) / (variance + precision.repeatabilityVariance(Math.min(y, expected)));
	}

	/** Takes in what was tested; levels are those of the beginning of the day. */
	void assimilate(SeasonVisit visit, TechnicianBias known) {
		for (int level : followed) {
			SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
			if (reading != null) {
				double[] bias = technicianBias.of(visit.technician(), level, reading.precision(), known, weight, random);
				ReadingAssimilation assimilation = new ReadingAssimilation(levels[level], level, unrecordedSource, reading);
				assimilation.update(bias, weight, noiseModel.outlierShare(), random);
				if (assimilation.outlier()) {
					notes.add(DriftNote.of(DriftNote.Code.READING_DOUBTED, SlowLevels.ALL.get(level), visit.day(), reading.value(),
							assimilation.expected()));
				}
				resampleIfDegenerate();
			}
		}
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
		double retained = 1 - share;
		for (int level : followed) {
			ParticleLevels state = levels[level];
			for (int i = 0; i < particleCount; i++) {
				state.mean[i] = retained * state.mean[i] + share * parameters.fill[level][i];
				state.variance[i] = retained * retained * state.variance[i] + 1e-6;
				state.covarianceWithStart[i] *= retained;
				if (unrecordedSource.raises(level, i)) {
					unrecordedSource.covarianceWithLevel[i] *= retained;
				}
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
		for (int level : followed) {
			levels[level].arrays().forEach(values -> Resampling.gather(values, from));
		}
		Resampling.gather(height, from);
		unrecordedSource.gather(from);
		technicianBias.gatherAndJitter(from, random);
		dosing.gather(from);
		for (double[] values : parameters.of(follows)) {
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
