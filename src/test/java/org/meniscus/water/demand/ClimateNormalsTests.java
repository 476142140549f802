package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.demand.ClimateNormals.Month;

/** Normals by the month and what lies between, by arithmetic. */
class ClimateNormalsTests {

	private static final Month JANUARY = new Month(2, 31, 4, 10);

	private static final Month FEBRUARY = new Month(4, 59, 8, 16);

	private static final Month OTHER = new Month(1, 10, 2, 12);

	private static ClimateNormals year() {
		List<Month> months = new ArrayList<>(Collections.nCopies(12, OTHER));
		months.set(0, JANUARY);
		months.set(1, FEBRUARY);
		return new ClimateNormals(months);
	}

	private static Month at(int month, int day) {
		return year().at(LocalDate.of(2026, month, day).toEpochDay());
	}

	/** Noon of the 16th is the middle of a month of 31 days. */
	@Test
	void middleOfAMonthHasItsNormal() {
		same(at(1, 16), JANUARY);
		same(at(7, 16), OTHER);
	}

	/** The 31st of January at noon is 30.5 / 31 - 1/2 of a month past its middle: 0.48387 of the way to February. */
	@Test
	void daysBetweenLieOnAStraightLine() {
		double share = 30.5 / 31 - 0.5;
		same(at(1, 31), new Month(2 + 2 * share, 31 + 28 * share, 4 + 4 * share, 10 + 6 * share));
	}

	/** The first days of January lie between December and January: half a day of 31 is past, so 0.5 + 0.5 / 31 of the way. */
	@Test
	void yearClosesBetweenDecemberAndJanuary() {
		double share = 0.5 + 0.5 / 31;
		same(at(1, 1), new Month(1 + share, 10 + 21 * share, 2 + 2 * share, 12 - 2 * share));
		double before = 30.5 / 31 - 0.5;
		same(at(12, 31), new Month(1 + before, 10 + 21 * before, 2 + 2 * before, 12 - 2 * before));
	}

	private static void same(Month month, Month expected) {
		assertThat(month.evaporation()).isCloseTo(expected.evaporation(), within(1e-9));
		assertThat(month.rain()).isCloseTo(expected.rain(), within(1e-9));
		assertThat(month.wetDays()).isCloseTo(expected.wetDays(), within(1e-9));
		assertThat(month.waterTemperature()).isCloseTo(expected.waterTemperature(), within(1e-9));
	}

	/** About 6 ft of evaporation a year in Phoenix: City of Phoenix water services; summer is the warm and thirsty half everywhere. */
	@Test
	void yearsHaveTheirEvaporationAndTheirSummer() {
		double feet = ClimateNormals.HOT_DRY.months().stream().mapToDouble(Month::evaporation).sum() * 365.25 / 12 / 304.8;
		assertThat(feet).isCloseTo(6, within(0.3));
		for (ClimateNormals normals : List.of(ClimateNormals.HOT_DRY, ClimateNormals.SUBTROPICAL, ClimateNormals.TEMPERATE,
				ClimateNormals.MEDITERRANEAN)) {
			assertThat(normals.months().get(6).waterTemperature()).isGreaterThan(normals.months().get(0).waterTemperature() + 10);
			assertThat(normals.months().get(6).evaporation()).isGreaterThan(2 * normals.months().get(0).evaporation());
		}
	}

	@ParameterizedTest
	@CsvSource({ "0, 0, 0, 20, true", "-0.1, 0, 0, 20, false", "0, -1, 0, 20, false", "0, 0, -1, 20, false", "0, 0, 0, -5, false",
			"0, 0, 0, -4.9, true", "0, 0, 0, 50, false", "0, 0, 0, 49.9, true", "NaN, 0, 0, 20, false" })
	void monthsHoldOnlyPossibleWeather(double evaporation, double rain, double wetDays, double celsius, boolean possible) {
		if (possible) {
			assertThat(new Month(evaporation, rain, wetDays, celsius).waterTemperature()).isEqualTo(celsius);
		}
		else {
			assertThatIllegalArgumentException().isThrownBy(() -> new Month(evaporation, rain, wetDays, celsius));
		}
	}

	@Test
	void yearsHaveTwelveMonths() {
		assertThatIllegalArgumentException().isThrownBy(() -> new ClimateNormals(Collections.nCopies(11, OTHER)));
		assertThatIllegalArgumentException().isThrownBy(() -> new ClimateNormals(Collections.nCopies(13, OTHER)));
	}

}
