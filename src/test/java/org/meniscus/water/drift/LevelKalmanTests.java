package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.drift.LevelKalman.Model;
import org.meniscus.water.drift.LevelKalman.Run;
import org.meniscus.water.drift.LevelKalman.State;
import org.meniscus.water.drift.LevelKalman.Step;

/** Expected values: statsmodels 0.13.5 (Python, numpy 1.24.2), state-space models, six decimals; series from simulated pool seasons. */
class LevelKalmanTests {

	private static final Path FOLDER = Path.of("src/test/resources/reference-kalman");

	@ParameterizedTest
	@ValueSource(strings = { "S01", "S02", "S03", "S04", "S05", "S06", "S07", "S08", "S09", "S10" })
	void filterSmootherForecastAndLikelihoodAreThoseOfTheReferenceLibrary(String series) throws IOException {
		String[] figures = rows("params.csv", series).get(0);
		Model model = new Model(number(figures[4]), number(figures[5]), number(figures[6]),
				new State(number(figures[7]), 0, number(figures[8]), 0, number(figures[9])));
		List<Step> steps = new ArrayList<>();
		for (String[] row : rows("series.csv", series)) {
			steps.add(new Step(row[3].isEmpty() ? Double.NaN : number(row[3]), number(row[4]), number(row[5]), number(row[6])));
		}
		Run run = LevelKalman.run(model, steps);
		List<String[]> expected = rows("expected.csv", series);
		assertThat(expected).hasSameSizeAs(steps).hasSizeGreaterThan(10);
		for (int k = 0; k < expected.size(); k++) {
			check(run.predicted().get(k), expected.get(k), 2);
			check(run.filtered().get(k), expected.get(k), 7);
			check(run.smoothed().get(k), expected.get(k), 12);
		}
		same(run.logLikelihood(), number(figures[10]));
		State ahead = run.filtered().get(steps.size() - 1);
		double input = steps.get(steps.size() - 1).input();
		double days = figures[1].equals("local-linear-trend") ? 1 : 7;
		for (String[] row : rows("forecast.csv", series)) {
			ahead = LevelKalman.next(model, ahead, days, input);
			input = 0;
			same(ahead.level(), number(row[2]));
			same(ahead.levelVariance(), number(row[3]));
		}
	}

	private static void check(State state, String[] row, int from) {
		same(state.level(), number(row[from]));
		same(state.drift(), number(row[from + 1]));
		same(state.levelVariance(), number(row[from + 2]));
		same(state.covariance(), number(row[from + 3]));
		same(state.driftVariance(), number(row[from + 4]));
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
