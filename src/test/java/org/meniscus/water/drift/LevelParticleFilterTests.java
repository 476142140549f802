package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.XorShiftRandom;

/**
 * The particle filter with all particles alike is a Kalman filter. Expected values: statsmodels 0.13.5 (Python, numpy 1.24.2), state-space
 * models, six decimals; series from simulated pool seasons.
 * <p>
 * How the reference's model is mapped: a step of the series is a day on which demand and breakdown are as high as the step has days, so
 * that CYA keeps 1 - lambda × days. The drift is the rate of an unrecorded source; as that is never below 0, an offset is
 * added to it and taken from every recorded dose. The reference's process noise, which a pool does not have in this form,
 * is added by the test. Water stands still, doses do what is recorded, a reading's variance is that of the series.
 */
class LevelParticleFilterTests {

	private static final Path FOLDER = Path.of("src/test/resources/reference-kalman");

	private static final int PARTICLES = 3;

	@ParameterizedTest
	@ValueSource(strings = { "S01", "S02", "S03", "S04", "S05", "S06", "S07", "S08", "S09", "S10" })
	void filterIsTheReferenceKalmanFilterInTheLinearCase(String series) throws IOException {
		KalmanCase reference = new KalmanCase(rows("params.csv", series).get(0));
		List<String[]> steps = rows("series.csv", series);
		List<String[]> expected = rows("expected.csv", series);
		assertThat(expected).hasSameSizeAs(steps).hasSizeGreaterThan(10);
		for (int k = 0; k < steps.size(); k++) {
			String[] step = steps.get(k);
			reference.assertState(expected.get(k), 2);
			if (!step[3].isEmpty()) {
				reference.assimilate(number(step[3]), number(step[4]));
			}
			reference.assertState(expected.get(k), 7);
			if (k < steps.size() - 1) {
				reference.advance(number(step[5]), number(step[6]));
			}
		}
		// level and variance of the first step given all readings
		same(reference.state().mean(reference.start(), 0), number(expected.get(0)[12]));
		same(reference.state().variance(reference.start(), 0), number(expected.get(0)[14]));
		double input = number(steps.get(steps.size() - 1)[6]);
		for (String[] row : rows("forecast.csv", series)) {
			reference.advance(reference.localLinearTrend ? 1 : 7, input);
			input = 0;
			same(reference.state().mean(reference.level(), 0), number(row[2]));
			same(reference.state().variance(reference.level(), 0), number(row[3]));
		}
	}

	/** A filter and the weather of its days. */
	private static final class KalmanCase {

		private final boolean localLinearTrend;

		private final double levelNoise;

		private final double driftNoise;

		/** ppm a day: more than any drift is below 0, and over a step no larger than a dose that the filter believes. */
		private final double offset;

		private final Weather weather = stillWeather();

		private final LevelParticleFilter filter;

		KalmanCase(String[] parameters) {
			this.localLinearTrend = parameters[1].equals("local-linear-trend");
			this.offset = localLinearTrend ? 100 : 10;
			this.levelNoise = number(parameters[5]);
			this.driftNoise = number(parameters[6]);
			SeasonPool pool = new SeasonPool(60.0, 42.0, false, false, true, false, false, Map.of(), Map.of(), null);
			boolean[] follows = new boolean[SlowLevels.COUNT];
			follows[SlowLevels.CYA] = true;
			this.filter = new LevelParticleFilter(new SeasonRecord(pool, List.of(), TechnicianBias.NONE), weather, PARTICLES, 0, follows, 1,
					new LevelParticleFilter.NoiseModel(0, 0, false));
			Arrays.fill(filter.parameters.breakdown, number(parameters[4]));
			Arrays.fill(filter.parameters.leak, 0);
			XorShiftRandom random = new XorShiftRandom(1);
			for (int i = 0; i < PARTICLES; i++) {
				do {
					filter.unrecordedSource.begin(i, random);
				} while (!filter.unrecordedSource.raises(SlowLevels.CYA, i));
			}
			for (int i = 0; i < PARTICLES; i++) {
				state().set(state().doseFactor, i, 1, 0);
				state().set(state().unrecordedRate, i, offset, number(parameters[9]));
				state().set(level(), i, number(parameters[7]), number(parameters[8]));
				state().startHere(SlowLevels.CYA, i);
			}
		}

		private static Weather stillWeather() {
			Weather weather = new Weather(ClimateNormals.HOT_DRY);
			Arrays.fill(weather.evaporation, 0);
			Arrays.fill(weather.bathing, 0);
			for (double[] rain : weather.rain) {
				Arrays.fill(rain, 0);
			}
			return weather;
		}

		JointNormalParticles state() {
			return filter.state;
		}

		int level() {
			return state().level(SlowLevels.CYA);
		}

		int start() {
			return state().start(SlowLevels.CYA);
		}

		void assimilate(double reading, double variance) {
			TestPrecision error = new TestPrecision(0, Math.sqrt(variance), 0, 0);
			filter.assimilate(
					visit(Map.of(Level.CYA, new SeasonVisit.Reading(reading, ReadingQualifier.EXACT, error)), List.of()),
					TechnicianBias.NONE);
		}

		void advance(double days, double input) {
			weather.demand[Weather.dayOfYear(filter.day)] = days;
			weather.breakdown[Weather.dayOfYear(filter.day)] = days;
			Map<Level, Double> change = Map.of(Level.CYA, input - offset * days);
			filter.addCorrections(visit(Map.of(), List.of(new SeasonVisit.Dose(DoseKind.STABILIZER, 0, change, 0))));
			filter.advance(filter.day + 1);
			for (int i = 0; i < PARTICLES; i++) {
				state().addCovariance(level(), level(), i, levelNoise * days);
				state().addCovariance(state().unrecordedRate, state().unrecordedRate, i, driftNoise * days);
			}
		}

		private SeasonVisit visit(Map<Level, SeasonVisit.Reading> readings, List<SeasonVisit.Dose> doses) {
			return new SeasonVisit(filter.day, "T", readings, doses, false, 0);
		}

		/** @param from column of the level, followed by drift, variance, covariance and variance of the drift */
		void assertState(String[] row, int from) {
			for (int i = 0; i < PARTICLES; i++) {
				same(state().mean(level(), i), number(row[from]));
				same(state().mean(state().unrecordedRate, i) - offset, number(row[from + 1]));
				same(state().variance(level(), i), number(row[from + 2]));
				same(state().covariance(level(), state().unrecordedRate, i), number(row[from + 3]));
				same(state().variance(state().unrecordedRate, i), number(row[from + 4]));
			}
			assertThat(filter.weight).containsOnly(new double[]{ 1.0 / PARTICLES }, within(1e-12));
		}

	}

	/** 1e-6 absolute or relative, whichever is larger: the reference has six decimals. */
	private static void same(double actual, double expected) {
		assertThat(actual).isCloseTo(expected, within(1e-6 * Math.max(1, Math.abs(expected))));
	}

	private static List<String[]> rows(String file, String series) throws IOException {
		return Files.readAllLines(FOLDER.resolve(file)).stream().filter(line -> line.startsWith(series + ","))
			.map(line -> line.split(",", -1)).toList();
	}

	private static double number(String text) {
		return Double.parseDouble(text);
	}

}
