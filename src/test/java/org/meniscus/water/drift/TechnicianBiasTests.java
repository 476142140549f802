package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
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

/** Normal distributions multiplied, by their closed form. */
class TechnicianBiasTests {

	private static final int PARTICLES = 2;

	private static final Key CYA = new Key("T", Level.CYA);

	private static final Key CH = new Key("T", Level.CH);

	/** Persons differ by 6 % in CYA, by 3 % in CH: docs/demand.md. */
	private static final double CYA_SPREAD = 0.06;

	private final JointNormalParticles state = new JointNormalParticles(PARTICLES, new int[]{ SlowLevels.CYA });

	private final TechnicianBiasParticles particles = new TechnicianBiasParticles(state);

	private final TechnicianBiasEstimator estimator = new TechnicianBiasEstimator();

	private final double[] weight = { 0.5, 0.5 };

	private int bias(@Nullable String technician, TechnicianBias known) {
		return particles.of(technician, SlowLevels.CYA, TestPrecision.TURBIDITY_TUBE, known, weight);
	}

	private static TechnicianBias known(double mean, double deviation) {
		return new TechnicianBias(Map.of(CYA, new Estimate(mean, deviation)));
	}

	private void assertBias(int component, int i, double mean, double deviation) {
		assertThat(state.mean(component, i)).isCloseTo(mean, within(1e-12));
		assertThat(Math.sqrt(state.variance(component, i))).isCloseTo(deviation, within(1e-12));
	}

	@Test
	void biasOfAStrangerIsThatOfPersonsAtLarge() {
		int bias = bias("T", TechnicianBias.NONE);
		assertBias(bias, 0, 0, CYA_SPREAD);
		assertBias(bias, 1, 0, CYA_SPREAD);
		assertThat(bias("T", TechnicianBias.NONE)).as("the same person").isEqualTo(bias);
		assertThat(bias(null, TechnicianBias.NONE)).as("nobody named").isNotEqualTo(bias).isEqualTo(bias(null, TechnicianBias.NONE));
	}

	@Test
	void biasBeginsWithWhatOtherPoolsSay() {
		assertBias(bias("T", known(0.05, 0.04)), 1, 0.05, 0.04);
	}

	/**
	 * From 0 ± 0.06 to 0.04 ± 0.045 is what a measurement says that has the difference of the precisions; each particle, told otherwise by
	 * its readings, takes it in and is weighed by it.
	 */
	@Test
	void whatOtherPoolsSaySinceIsTakenIn() {
		int bias = bias("T", TechnicianBias.NONE);
		state.set(bias, 1, -0.02, 0.03 * 0.03);
		TechnicianBias now = known(0.04, 0.045);
		bias("T", now);
		assertBias(bias, 0, 0.04, 0.045);
		double precision = 1 / (0.045 * 0.045) - 1 / (0.06 * 0.06);
		double measured = 0.04 / (0.045 * 0.045) / precision;
		double before = 1 / (0.03 * 0.03);
		assertBias(bias, 1, (before * -0.02 + precision * measured) / (before + precision), 1 / Math.sqrt(before + precision));
		double first = density(measured, 0, 0.06 * 0.06 + 1 / precision);
		double second = density(measured, -0.02, 0.03 * 0.03 + 1 / precision);
		assertThat(weight[0]).isCloseTo(first / (first + second), within(1e-9));
		double[] once = weight.clone();
		bias("T", now);
		assertThat(weight).as("it is not counted again").isEqualTo(once);
		assertBias(bias, 0, 0.04, 0.045);
		bias("T", known(-0.3, 0.05));
		assertThat(weight).as("what knows less is not taken in").isEqualTo(once);
	}

	private static double density(double x, double mean, double variance) {
		return Math.exp(-0.5 * (x - mean) * (x - mean) / variance) / Math.sqrt(variance);
	}

	/** Readings that say 0.05 ± 0.05 leave the product of both normal distributions; asked back, the pool says just that. */
	@Test
	void whatThisPoolSaysIsItsPosteriorLessThePrior() {
		int bias = bias("T", known(0.01, 0.06));
		double precision = 1 / 0.0036 + 400;
		for (int i = 0; i < PARTICLES; i++) {
			state.set(bias, i, (0.01 / 0.0036 + 400 * 0.05) / precision, 1 / precision);
		}
		double[] likelihood = particles.likelihood(CYA, weight);
		assertThat(likelihood).isNotNull();
		assertThat(likelihood[0]).isCloseTo(400, within(1e-6));
		assertThat(likelihood[1]).isCloseTo(20, within(1e-6));
	}

	@Test
	void whoReadNothingSaysNothing() {
		assertThat(particles.likelihood(CYA, weight)).as("never here").isNull();
		int bias = bias("T", TechnicianBias.NONE);
		assertThat(particles.likelihood(CH, weight)).as("another level").isNull();
		state.set(bias, 0, -0.1, 0.0036);
		state.set(bias, 1, 0.1, 0.0036);
		assertThat(particles.likelihood(CYA, weight)).as("knows less than before").isNull();
	}

	/** Precisions add up; what all technicians seem to be off by in the mean is none of theirs; none is known better than to 0.3. */
	@Test
	void poolIsToldHowItsTechnicianDiffersByWhatTheOthersSay() {
		WalkForward own = walk(List.of());
		WalkForward other = walk(List.of());
		Key fair = new Key("U", Level.CYA);
		estimator.add(own, CYA, new double[]{ 900, -90 });
		estimator.add(other, CYA, new double[]{ 400, 20 });
		estimator.add(walk(List.of()), CYA, new double[]{ 300, 30 });
		estimator.add(other, fair, new double[]{ 700, -14 });
		// both are known as well: the mean of 50 / 700 and -14 / 700 is common
		double common = (50 - 14) / 1400.0;
		double precision = 1 / (CYA_SPREAD * CYA_SPREAD) + 700;
		Map<Key, Estimate> told = estimator.excluding(own).estimates();
		assertThat(told.get(CYA).mean()).isCloseTo((50 - 700 * common) / precision, within(1e-12));
		assertThat(told.get(CYA).deviation()).isCloseTo(1 / Math.sqrt(precision), within(1e-12));
		assertThat(told.get(fair).mean()).isCloseTo(-told.get(CYA).mean(), within(1e-12));
		estimator.add(other, CYA, new double[]{ 300_000, 30_000 });
		assertThat(estimator.excluding(own).estimates().get(CYA).deviation()).isCloseTo(0.3 * CYA_SPREAD, within(1e-12));
	}

	/** Whatever all pools say of the only one there is, may be an error of the model as well. */
	@Test
	void onlyTechnicianIsToldNoBias() {
		estimator.add(walk(List.of()), CYA, new double[]{ 900, -90 });
		assertThat(estimator.excluding(walk(List.of())).estimates().get(CYA).mean()).isCloseTo(0, within(1e-12));
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
		assertThat(told.get(new Key("high", Level.CYA)).mean()).isGreaterThan(told.get(new Key("fair", Level.CYA)).mean() + 0.1);
		assertThat(estimator.excluding(walk).estimates()).as("not its own").containsValue(new Estimate(0, CYA_SPREAD));
	}

	private static WalkForward walk(List<SeasonVisit> visits) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, Map.of(), Map.of(), null);
		return new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 60, 0.76))
			.walkForward(new SeasonRecord(pool, visits, TechnicianBias.NONE));
	}

}
