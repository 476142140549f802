package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.water.drift.SeasonRecord.FillHardness;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Draws against the table of docs/season.md and, where depth and volume are known in part by the depth that is on record, against Bayes'
 * theorem of normal variables. Medians and spreads to sampling error.
 */
class PriorsTests {

	private static final int COUNT = 20_000;

	private final PoolParameters parameters = new PoolParameters(COUNT);

	private final double[] height = new double[COUNT];

	private final JointNormalParticles state = new JointNormalParticles(COUNT, IntStream.range(0, SlowLevels.COUNT).toArray());

	private final UnrecordedSource source = new UnrecordedSource(state);

	private void draw(@Nullable Double volume, @Nullable Double area, boolean newPlaster, boolean autofill, boolean cover,
			Map<Level, Double> fill) {
		SeasonPool pool = new SeasonPool(volume, area, true, newPlaster, autofill, true, cover, fill, Map.of(), null);
		new Priors(pool, FillHardness.USUAL, new XorShiftRandom(21)).draw(parameters, state, source, height);
	}

	private static void assertLognormal(double[] values, double median, double spread) {
		double[] logs = Arrays.stream(values).map(Math::log).toArray();
		double mean = Arrays.stream(logs).average().orElseThrow();
		double variance = Arrays.stream(logs).map(log -> (log - mean) * (log - mean)).average().orElseThrow();
		assertThat(mean).isCloseTo(Math.log(median), within(4 * spread / Math.sqrt(COUNT)));
		assertThat(Math.sqrt(variance)).isCloseTo(spread, within(0.03 * spread));
	}

	private static double share(double[] values, double above) {
		return (double) Arrays.stream(values).filter(value -> value > above).count() / COUNT;
	}

	/** Of the pools nine in ten begin as looked after, nine in ten of these in range: 0.81 and some of the others; docs/season.md. */
	@Test
	void openingLevelsAreMostlyInRangeAndSeldomBelowTheFillWater() {
		Range range = new Range(150, 200, 400, 1000, "test");
		int ch = state.level(SlowLevels.CH);
		double[] below = new double[2];
		for (double fill : new double[]{ 40, 324 }) {
			SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, Map.of(Level.CH, fill), Map.of(Level.CH, range),
					null);
			Priors priors = new Priors(pool, FillHardness.USUAL, new XorShiftRandom(3));
			priors.draw(parameters, state, source, height);
			double inside = 0;
			for (int i = 0; i < COUNT; i++) {
				priors.drawLevel(SlowLevels.CH, state, i);
				double ppm = state.mean(ch, i);
				inside += (ppm >= 150 && ppm <= 1000) ? 1.0 / COUNT : 0;
				below[(fill > 100) ? 1 : 0] += (ppm < 180) ? 1.0 / COUNT : 0;
			}
			assertThat(inside).as("fill water %s", fill).isBetween(0.87, 0.97);
		}
		assertThat(below[0]).isBetween(0.06, 0.15);
		assertThat(below[1]).as("softer than its fill water").isLessThan(0.02);
	}

	/** Normal means with five usual pools beside those on file: Morris, JASA 78:47-55, 1983. */
	@Test
	void untestedFillWaterIsTakenFromTheOtherPoolsOfTheCompany() {
		assertThat(FillHardness.of(List.of())).isEqualTo(FillHardness.USUAL);
		FillHardness one = FillHardness.of(List.of(300.0));
		assertThat(Math.exp(one.mean())).isCloseTo(160 * Math.pow(300 / 160.0, 1 / 6.0), within(1e-6));
		assertThat(one.deviation()).isGreaterThan(0.59);
		FillHardness many = FillHardness.of(Collections.nCopies(95, 300.0));
		assertThat(Math.exp(many.mean())).isCloseTo(300, within(12.0));
		assertThat(many.deviation()).isBetween(0.1, 0.25);
		draw(many, Map.of());
		assertThat(mean(state.fill(SlowLevels.CH))).isCloseTo(300, within(20.0));
		draw(many, Map.of(Level.CH, 100.0));
		assertThat(mean(state.fill(SlowLevels.CH))).as("its own test counts alone").isCloseTo(102, within(2.0));
	}

	private void draw(FillHardness fillHardness, Map<Level, Double> fill) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, fill, Map.of(), null);
		new Priors(pool, fillHardness, new XorShiftRandom(21)).draw(parameters, state, source, height);
	}

	private double mean(int component) {
		return IntStream.range(0, COUNT).mapToDouble(i -> state.mean(component, i)).average().orElseThrow();
	}

	@Test
	void parametersAreDrawnAsTheTableSays() {
		draw(60.0, 42.0, false, true, false, Map.of());
		assertLognormal(parameters.evaporationFactor, 1, 0.22);
		assertLognormal(parameters.splashOut, 0.35, 0.5);
		assertLognormal(parameters.freeboard, 25, 0.4);
		assertLognormal(parameters.breakdown, 0.0013, 0.35);
		assertThat(share(parameters.leak, 0)).isCloseTo(0.06, within(0.007));
		assertLognormal(Arrays.stream(parameters.leak).filter(leak -> leak > 0).toArray(), 4, 0.6);
		// 0.5 to 1.4 m3 of 42 m2
		assertThat(Arrays.stream(parameters.backwash).min().orElseThrow()).isCloseTo(500 / 42.0, within(0.05));
		assertThat(Arrays.stream(parameters.backwash).max().orElseThrow()).isCloseTo(1400 / 42.0, within(0.05));
		assertThat(share(parameters.scaling, 0.0006)).isCloseTo(0.35, within(0.015));
		assertThat(share(parameters.unrecordedDoses, 0.125)).isCloseTo(0.1, within(0.02));
		double sources = 0;
		for (int i = 0; i < COUNT; i++) {
			sources += source.present(i) ? 1.0 / COUNT : 0;
		}
		assertThat(sources).isCloseTo(0.15, within(0.011));
		assertThat(parameters.plaster).containsOnly(0);
		assertThat(height).containsOnly(0);
	}

	@Test
	void coversPlasterAndHandFillingShow() {
		draw(60.0, 42.0, true, false, true, Map.of());
		assertLognormal(parameters.evaporationFactor, 0.5, 0.22);
		assertLognormal(parameters.plaster, 66, 0.3);
		assertThat(Arrays.stream(height).min().orElseThrow()).isBetween(-40.0, -39.9);
		assertThat(Arrays.stream(height).max().orElseThrow()).isBetween(9.9, 10.0);
	}

	@Test
	void fillWaterIsThatOnRecordOrThatOfTheCountry() {
		draw(60.0, 42.0, false, true, false, Map.of());
		assertLognormal(fill(Level.CH), 160, 0.6);
		assertThat(fill(Level.CYA)).as("fill water brings none").isEqualTo(JointNormalParticles.NONE);
		assertThat(fill(Level.BORATE)).isEqualTo(JointNormalParticles.NONE);
		assertThat(state.fillMean(SlowLevels.CYA, 3)).isZero();
		assertLognormal(fill(Level.SALT), 100, 0.7);
		assertLognormal(fill(Level.TDS), 300, 0.5);
		draw(60.0, 42.0, false, true, false, Map.of(Level.CH, 220.0, Level.TDS, 400.0, Level.SALT, 0.0));
		assertLognormal(fill(Level.CH), 220, 0.2);
		assertLognormal(fill(Level.TDS), 400, 0.2);
		assertLognormal(fill(Level.SALT), 1, 0.2);
	}

	/** Volume 17 %, 2 % of pools 120 % of ln; depth 12 %: with nothing to compare, that is all. */
	@Test
	void withoutAnAreaVolumeAndDepthAreThoseOfPoolsAtLarge() {
		draw(60.0, null, false, true, false, Map.of());
		assertLognormal(parameters.depth, 1430, 0.12);
		double variance = 0.98 * 0.17 * 0.17 + 0.02 * 1.2 * 1.2;
		assertLogVariance(state.doseFactor, 0, variance);
		assertThat(Arrays.stream(parameters.backwash).max().orElseThrow()).as("area by the usual depth")
			.isCloseTo(1400 / (60 / 1.43), within(0.05));
	}

	/** A particle's normal distribution has the mean and variance of a lognormal one. */
	private void assertLogVariance(int component, double mean, double variance) {
		double[] medians = new double[COUNT];
		double within = 0;
		for (int i = 0; i < COUNT; i++) {
			double square = Math.log1p(state.variance(component, i) / (state.mean(component, i) * state.mean(component, i)));
			medians[i] = Math.log(state.mean(component, i)) - square / 2;
			within += square / COUNT;
		}
		double found = Arrays.stream(medians).average().orElseThrow();
		assertThat(found).isCloseTo(mean, within(5 * Math.sqrt(variance / COUNT)));
		assertThat(within + Arrays.stream(medians).map(log -> (log - found) * (log - found)).average().orElseThrow())
			.isCloseTo(variance, within(0.12 * variance));
	}

	private void assertLognormal(int component, double median, double spread) {
		assertLogVariance(component, Math.log(median), spread * spread);
	}

	private int fill(Level level) {
		return state.fill(SlowLevels.ALL.indexOf(level));
	}

	/**
	 * ln of the depth on record = ln depth + error of the volume - error of the area. A depth on record off by {@code off} is shared out by
	 * the variances 0.12², 0.17² (or 1.2², where the volume is wrong by far) and 0.08²; how likely it is wrong by far follows from the
	 * densities. At off = 0.758 both are about as likely, at ln 10 it is certain.
	 */
	@Test
	void depthOnRecordTellsOfVolumeAndDepth() {
		for (double off : new double[]{ 0, 0.3, 0.758, Math.log(10) }) {
			double volume = 1.43 * Math.exp(off) * 42;
			draw(volume, 42.0, false, true, false, Map.of());
			double usual = 0.12 * 0.12 + 0.17 * 0.17 + 0.08 * 0.08;
			double gross = 0.12 * 0.12 + 1.2 * 1.2 + 0.08 * 0.08;
			double right = 0.98 * Math.exp(-0.5 * off * off / usual) / Math.sqrt(usual);
			double wrong = 0.02 * Math.exp(-0.5 * off * off / gross) / Math.sqrt(gross);
			double chance = wrong / (wrong + right);
			double volumeRight = off * 0.17 * 0.17 / usual;
			double volumeWrong = off * 1.44 / gross;
			double mean = (1 - chance) * volumeRight + chance * volumeWrong;
			double within = (1 - chance) * 0.17 * 0.17 * (1 - 0.17 * 0.17 / usual) + chance * 1.44 * (1 - 1.44 / gross);
			double between = chance * (1 - chance) * (volumeWrong - volumeRight) * (volumeWrong - volumeRight);
			assertLogVariance(state.doseFactor, mean, within + between);
			double depthMean = (1 - chance) * off * 0.12 * 0.12 / usual + chance * off * 0.12 * 0.12 / gross;
			double found = Arrays.stream(parameters.depth).map(Math::log).average().orElseThrow();
			assertThat(found - Math.log(1430)).as("off by " + off).isCloseTo(depthMean, within(5 * 0.12 / Math.sqrt(COUNT)));
		}
	}

}
