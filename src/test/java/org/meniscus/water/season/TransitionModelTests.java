package org.meniscus.water.season;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.demand.ClimateNormals;

/** Water and what is dissolved in it are conserved from week to week. */
class TransitionModelTests {

	private static final double DEPTH = 1430;

	private static ClimateNormals always(double evaporation, double rain, double wetDays, double celsius) {
		return new ClimateNormals(Collections.nCopies(12, new ClimateNormals.Month(evaporation, rain, wetDays, celsius)));
	}

	/** dilution.csv: C = C0 + f (Cfill - C0), its own arithmetic. */
	@Test
	void drainsDiluteAsInTheTable() throws IOException {
		Path file = Path.of("src/test/resources/reference/dilution.csv");
		List<CSVRecord> rows;
		try (CSVParser parser = CSVParser.parse(file, StandardCharsets.UTF_8,
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get())) {
			rows = parser.getRecords();
		}
		assertThat(rows).hasSize(5);
		for (CSVRecord row : rows) {
			double start = Double.parseDouble(row.get("C_start_mg_L"));
			double fill = Double.parseDouble(row.get("C_fill_mg_L"));
			State once = new State(start, start).replaced(0.25, fill);
			assertThat(once.ch()).isCloseTo(Double.parseDouble(row.get("C_after_one_25pct_drain")), within(0.005));
			assertThat(once.replaced(0.25, fill).ch()).isCloseTo(Double.parseDouble(row.get("C_after_two_25pct_drains")), within(0.01));
			State target = new State(start, start).replaced(Double.parseDouble(row.get("fraction_to_drain_once")), fill);
			assertThat(target.ch()).isCloseTo(Double.parseDouble(row.get("C_target_mg_L")), within(0.03));
			if (fill == 0) {
				assertThat(once.cya()).isEqualTo(once.ch());
			}
		}
	}

	/**
	 * Without rain, what evaporates and what is lost is filled up. Hardness comes in with all of it and leaves with what is lost (0.12 % a day):
	 * it stands still at fill x (evaporated + lost)/lost.
	 */
	@ParameterizedTest
	@CsvSource({ "2, 100", "5, 160", "8, 250", "0, 120" })
	void hardnessStandsStillWhereInflowAndOutflowBalance(double evaporation, double fill) {
		TransitionModel model = new TransitionModel(always(evaporation, 0, 0, 28), fill, 0, 0);
		double lost = 0.0012 * DEPTH;
		double steady = fill * (evaporation + lost) / lost;
		assertThat(model.chAfter(20, steady)).isCloseTo(steady, within(1e-6));
		assertThat(model.meanChange(3, steady, model::chAfter)).isCloseTo(0, within(1e-6));
	}

	/** 0.13 % a day broken down at 28 °C, twice that at 38 (docs/demand.md), and 0.12 % a day leaves with water. */
	@ParameterizedTest
	@CsvSource({ "28, 0.0013", "38, 0.0026", "18, 0.00065" })
	void stabilizerIsLostByBreakdownAndOutflow(double celsius, double brokenDown) {
		TransitionModel model = new TransitionModel(always(4, 0, 0, celsius), 150, 0, 0);
		assertThat(model.cyaAfter(5, 60)).isCloseTo(60 * (1 - 7 * 0.0012) * Math.pow(1 - brokenDown, 7), within(1e-9));
		TransitionModel fed = new TransitionModel(always(4, 0, 0, celsius), 150, 2, 0);
		assertThat(fed.cyaAfter(5, 60) - model.cyaAfter(5, 60)).as("what others bring").isCloseTo(2, within(1e-9));
	}

	/** Rain beyond what evaporates and is lost overflows: (rain - evaporated - lost)/depth of all that is dissolved. */
	@Test
	void rainThatDoesNotFitTakesWhatIsDissolved() {
		double month = 365.25 / 12;
		// Each day is wet with 10 mm: 70 mm a week, of which 14 evaporate and 12 are lost.
		TransitionModel model = new TransitionModel(always(2, 10 * month, month, 20), 200, 0, 0);
		double lost = 7 * 0.0012 * DEPTH;
		assertThat(model.chAfter(30, 300)).isCloseTo(300 * (1 - (70 - 14) / DEPTH), within(1e-6));
		assertThat(lost).isLessThan(70 - 14);
		assertThat(model.filled(30)).isZero();
	}

	/** A pool that is lowered by 30 % for the winter and filled by rain keeps 70 % of what was in it, less what overflows then. */
	@Test
	void winterThinsWherePoolsFreeze() {
		TransitionModel model = new TransitionModel(ClimateNormals.TEMPERATE, 150, 0, 0);
		double cya = 80;
		int closed = 0;
		for (int week = 40; week < 40 + 30; week++) {
			int at = week % TransitionModel.WEEKS;
			closed += model.closed(at) ? 1 : 0;
			cya = model.cyaAfter(at, cya);
		}
		assertThat(closed).isBetween(12, 20);
		assertThat(cya).isBetween(80 * 0.55, 80 * 0.68);
		TransitionModel hot = new TransitionModel(ClimateNormals.HOT_DRY, 150, 0, 0);
		for (int week = 0; week < TransitionModel.WEEKS; week++) {
			assertThat(hot.closed(week)).isFalse();
		}
	}

}
