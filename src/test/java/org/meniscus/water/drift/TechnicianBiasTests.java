package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TechnicianBias.Estimate;
import org.meniscus.water.pool.TechnicianBias.Key;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.XorShiftRandom;

/** Normal distributions multiplied, by their closed form; those of particles to sampling error. */
class TechnicianBiasTests {

	private static final int PARTICLES = 40_000;

	private static final Key CYA = new Key("T", Level.CYA);

	private static final Key CH = new Key("T", Level.CH);

	/** Persons differ by 6 % in CYA, by 3 % in CH: docs/demand.md. */
	private static final double CYA_SPREAD = 0.06;

	private final TechnicianBiasParticles particles = new TechnicianBiasParticles();

	private final TechnicianBiasEstimator estimator = new TechnicianBiasEstimator();

	private final double[] weight = new double[PARTICLES];

	private final XorShiftRandom random = new XorShiftRandom(11);

	TechnicianBiasTests() {
		Arrays.fill(weight, 1.0 / PARTICLES);
	}

	private double[] bias(@Nullable String technician, TechnicianBias known) {
		return particles.of(technician, SlowLevels.CYA, TestPrecision.TURBIDITY_TUBE, known, weight, random);
	}

	private double mean(double[] bias) {
		double mean = 0;
		for (int i = 0; i < PARTICLES; i++) {
			mean += weight[i] * bias[i];
		}
		return mean;
	}

	private double deviation(double[] bias) {
		double mean = mean(bias);
		double squares = 0;
		for (int i = 0; i < PARTICLES; i++) {
			squares += weight[i] * (bias[i] - mean) * (bias[i] - mean);
		}
		return Math.sqrt(squares);
	}

	@Test
	void biasOfAStrangerIsThatOfPersonsAtLarge() {
		double[] bias = bias("T", TechnicianBias.NONE);
		assertThat(mean(bias)).isCloseTo(0, within(4 * CYA_SPREAD / Math.sqrt(PARTICLES)));
		assertThat(deviation(bias)).isCloseTo(CYA_SPREAD, within(0.001));
		assertThat(bias("T", TechnicianBias.NONE)).as("the same person").isSameAs(bias);
		assertThat(bias(null, TechnicianBias.NONE)).as("nobody named").isNotSameAs(bias).isSameAs(bias(null, TechnicianBias.NONE));
	}

	@Test
	void biasBeginsWithWhatOtherPoolsSay() {
		double[] bias = bias("T", new TechnicianBias(Map.of(CYA, new Estimate(0.05, 0.04))));
		assertThat(mean(bias)).isCloseTo(0.05, within(0.001));
		assertThat(deviation(bias)).isCloseTo(0.04, within(0.001));
	}

	/** Importance weights turn draws from one distribution into those from another. */
	@Test
	void whatOtherPoolsSaySinceReweighsIt() {
		double[] bias = bias("T", TechnicianBias.NONE);
		double[] before = bias.clone();
		double[] equal = weight.clone();
		bias("T", TechnicianBias.NONE);
		assertThat(weight).isEqualTo(equal);
		TechnicianBias now = new TechnicianBias(Map.of(CYA, new Estimate(0.04, 0.045)));
		bias("T", now);
		assertThat(bias).isEqualTo(before);
		assertThat(Arrays.stream(weight).sum()).isCloseTo(1, within(1e-9));
		assertThat(mean(bias)).isCloseTo(0.04, within(0.002));
		assertThat(deviation(bias)).isCloseTo(0.045, within(0.002));
		double[] once = weight.clone();
		bias("T", now);
		assertThat(weight).as("it is not counted again").isEqualTo(once);
	}

	/** Readings that say 0.05 ± 0.05 leave weights by that normal density; asked back, the pool says just that. */
	@Test
	void whatThisPoolSaysIsItsPosteriorLessThePrior() {
		double[] bias = bias("T", new TechnicianBias(Map.of(CYA, new Estimate(0.01, 0.06))));
		double sum = 0;
		for (int i = 0; i < PARTICLES; i++) {
			weight[i] = Math.exp(-0.5 * (bias[i] - 0.05) * (bias[i] - 0.05) / 0.0025);
			sum += weight[i];
		}
		Resampling.normalize(weight, sum);
		double[] likelihood = particles.likelihood(CYA, weight);
		assertThat(likelihood).isNotNull();
		assertThat(likelihood[0]).isCloseTo(400, within(20.0));
		assertThat(likelihood[1] / likelihood[0]).isCloseTo(0.05, within(0.003));
	}

	@Test
	void whoReadNothingSaysNothing() {
		assertThat(particles.likelihood(CYA, weight)).as("never here").isNull();
		double[] bias = bias("T", TechnicianBias.NONE);
		assertThat(particles.likelihood(CH, weight)).as("another level").isNull();
		// all weight on the tails: wider than before
		double sum = 0;
		for (int i = 0; i < PARTICLES; i++) {
			weight[i] = (Math.abs(bias[i]) > 0.08) ? 1 : 0;
			sum += weight[i];
		}
		Resampling.normalize(weight, sum);
		assertThat(particles.likelihood(CYA, weight)).as("knows less than before").isNull();
	}

	/** Particle 7 alone, then jitter: nothing to jitter. All of them turned round: each has moved, mean and spread have not. */
	@Test
	void biasesGoWithTheirParticlesAndAreMovedALittle() {
		double[] bias = bias("T", TechnicianBias.NONE);
		double[] before = bias.clone();
		int[] from = new int[PARTICLES];
		Arrays.setAll(from, i -> PARTICLES - 1 - i);
		particles.gatherAndJitter(from, random);
		double moved = 0;
		for (int i = 0; i < PARTICLES; i++) {
			moved += Math.abs(bias[i] - before[PARTICLES - 1 - i]) / PARTICLES;
		}
		// a tenth of the spread, in the mean of the absolute value
		assertThat(moved).isCloseTo(0.1 * CYA_SPREAD * Math.sqrt(2 / Math.PI), within(2e-4));
		assertThat(mean(bias)).isCloseTo(mean(before), within(2e-4));
		assertThat(deviation(bias)).isCloseTo(deviation(before), within(5e-4));
		Arrays.fill(from, 7);
		double seventh = bias[7];
		particles.gatherAndJitter(from, random);
		assertThat(bias).containsOnly(seventh);
	}

	/** Precisions add up, those of other pools at a fifth (docs/season.md); none is known better than to 0.6 of the prior. */
	@Test
	void poolIsToldWhatTheOthersSayAndNotItsOwn() {
		WalkForward own = walk(List.of());
		WalkForward other = walk(List.of());
		WalkForward third = walk(List.of());
		estimator.add(own, CYA, new double[]{ 900, -90 });
		estimator.add(other, CYA, new double[]{ 400, 20 });
		estimator.add(third, CYA, new double[]{ 300, 30 });
		double precision = 1 / (CYA_SPREAD * CYA_SPREAD) + 0.2 * 700;
		Estimate told = estimator.excluding(own).estimates().get(CYA);
		assertThat(told.mean()).isCloseTo(0.2 * 50 / precision, within(1e-12));
		assertThat(told.deviation()).isCloseTo(1 / Math.sqrt(precision), within(1e-12));
		estimator.add(third, CYA, new double[]{ 300_000, 30_000 });
		assertThat(estimator.excluding(own).estimates().get(CYA).deviation()).isCloseTo(0.6 * CYA_SPREAD, within(1e-12));
		Estimate alone = estimator.excluding(own).estimates().get(CYA);
		assertThat(alone.mean()).as("the newest of a pool counts").isCloseTo(0.1, within(0.01));
	}

	@Test
	void onlyPoolOfATechnicianIsToldThePrior() {
		WalkForward own = walk(List.of());
		estimator.add(own, CYA, new double[]{ 900, -90 });
		estimator.add(own, CH, new double[]{ 900, -90 });
		estimator.add(own, new Key("T", Level.SALT), new double[]{ 900, -90 });
		assertThat(estimator.excluding(own).estimates()).containsOnlyKeys(CYA, CH)
			.containsEntry(CYA, new Estimate(0, CYA_SPREAD));
		assertThat(estimator.excluding(own).estimates().get(CH).deviation()).isCloseTo(0.03, within(1e-12));
	}

	/** Sums are the same to the last bit in whatever order pools were added. */
	@Test
	void orderOfPoolsDoesNotMatter() {
		List<WalkForward> pools = new ArrayList<>();
		for (int n = 0; n < 40; n++) {
			pools.add(walk(List.of()));
		}
		WalkForward asked = walk(List.of());
		TechnicianBiasEstimator other = new TechnicianBiasEstimator();
		for (int n = 0; n < 40; n++) {
			estimator.add(pools.get(n), CYA, likelihood(n));
			other.add(pools.get(n), CYA, likelihood(39 - n));
		}
		assertThat(estimator.excluding(asked)).isEqualTo(other.excluding(asked));
	}

	private static double[] likelihood(int n) {
		return new double[]{ 100 / (n + 3.0), 7 / (n + 0.7) };
	}

	/**
	 * Two read one pool in turn, one of them a quarter too high; a visit that names nobody is nobody's. CYA 60 all the time but for its
	 * slow breakdown.
	 */
	@Test
	void whoReadsHigherThanTheOtherIsFoundOut() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week < 12; week++) {
			String technician = (week == 11) ? null : (week % 2 == 0) ? "high" : "fair";
			double read = 60 * ((week % 2 == 0) ? 1.25 : 1);
			visits.add(new SeasonVisit(20_580 + 7 * week, technician,
					Map.of(Level.CYA, new Reading(read, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER)), List.of(), false, 0));
		}
		WalkForward walk = walk(visits).reportingTo(estimator);
		for (int week = 0; walk.hasNext(); week++) {
			assertThat(walk.nextDay()).isEqualTo(20_580 + 7 * week);
			assertThat(walk.next(TechnicianBias.NONE).today()).isEqualTo(20_580 + 7 * week);
		}
		Map<Key, Estimate> told = estimator.excluding(walk(List.of())).estimates();
		assertThat(told.keySet()).extracting(Key::technician).containsOnly("high", "fair");
		assertThat(told.get(new Key("high", Level.CYA)).mean()).isGreaterThan(told.get(new Key("fair", Level.CYA)).mean() + 0.005);
		assertThat(estimator.excluding(walk).estimates()).as("not its own").containsValue(new Estimate(0, CYA_SPREAD));
	}

	private static WalkForward walk(List<SeasonVisit> visits) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, Map.of(), Map.of(), null);
		return new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 60, 0.76))
			.walkForward(new SeasonRecord(pool, visits, TechnicianBias.NONE));
	}

}
