package org.meniscus.season;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.meniscus.season.LevelTrend.LevelReading;
import org.meniscus.season.LevelTrend.TrendState;
import org.meniscus.water.demand.AlkalinityTrend;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

class LevelTrendTests {

	private static final LocalDate TODAY = LocalDate.of(2026, 7, 1);

	private static final Range CHLORINE = new Range(1, 2, 4, 10, "made up");

	private static final Range ALKALINITY = new Range(60, 80, 120, 180, "made up");

	@Test
	void chlorineIsWhatWasFoundLast() {
		assertThat(chlorine(3, ReadingQualifier.EXACT)).isEqualTo(TrendState.IN_RANGE);
		assertThat(chlorine(5, ReadingQualifier.EXACT)).isEqualTo(TrendState.DRIFTING);
		assertThat(chlorine(0.5, ReadingQualifier.EXACT)).isEqualTo(TrendState.OUT_OF_RANGE);
	}

	@Test
	void readingBeyondTheScaleIsABound() {
		assertThat(chlorine(10, ReadingQualifier.ABOVE)).isEqualTo(TrendState.OUT_OF_RANGE);
		assertThat(chlorine(5, ReadingQualifier.ABOVE)).isEqualTo(TrendState.DRIFTING);
		assertThat(chlorine(3, ReadingQualifier.ABOVE)).as("anything from 3").isEqualTo(TrendState.UNKNOWN);
		assertThat(chlorine(0.5, ReadingQualifier.BELOW)).isEqualTo(TrendState.OUT_OF_RANGE);
		assertThat(chlorine(1.5, ReadingQualifier.BELOW)).isEqualTo(TrendState.DRIFTING);
		assertThat(chlorine(3, ReadingQualifier.BELOW)).as("anything up to 3").isEqualTo(TrendState.UNKNOWN);
	}

	@Test
	void alkalinityThatWillLeaveItsIdealRangeWithinEightWeeksDrifts() {
		assertThat(alkalinity(-3, ALKALINITY)).as("87 now, 80 in two weeks").isEqualTo(TrendState.DRIFTING);
		assertThat(alkalinity(-3, new Range(40, 60, 120, 180, "made up"))).as("60 in nine weeks").isEqualTo(TrendState.IN_RANGE);
		assertThat(alkalinity(0, ALKALINITY)).isEqualTo(TrendState.IN_RANGE);
		assertThat(alkalinity(-7, ALKALINITY)).as("47 now").isEqualTo(TrendState.OUT_OF_RANGE);
		assertThat(alkalinity(0, null)).isEqualTo(TrendState.UNKNOWN);
	}

	private static TrendState chlorine(double ppm, ReadingQualifier qualifier) {
		LevelReading reading = new LevelReading(TODAY, new UUID(0, 1), ppm, qualifier);
		return new LevelTrend(Level.FC, CHLORINE, reading, null, List.of(reading), List.of(), 0).state(TODAY);
	}

	/** Eleven weekly readings from 117 ppm on. */
	private static TrendState alkalinity(double perWeek, Range range) {
		List<LevelReading> readings = new ArrayList<>();
		List<AlkalinityTrend.Reading> read = new ArrayList<>();
		for (int week = 0; week <= 10; week++) {
			LocalDate day = TODAY.minusWeeks(10 - week);
			readings.add(new LevelReading(day, new UUID(0, week), 117 + perWeek * week, ReadingQualifier.EXACT));
			read.add(new AlkalinityTrend.Reading(day.toEpochDay(), 117 + perWeek * week));
		}
		AlkalinityTrend trend = AlkalinityTrend.of(read, List.of(), TODAY.toEpochDay()).orElseThrow();
		return new LevelTrend(Level.TA, range, readings.get(10), trend, readings, List.of(), 0).state(TODAY);
	}

}
