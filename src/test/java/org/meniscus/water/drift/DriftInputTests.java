package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.drift.SeasonVisit.Dose;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;

/** What a season is made of holds only what can be; ends of what is possible are inside. */
class DriftInputTests {

	@ParameterizedTest
	@ValueSource(doubles = { 0, 0.5, 1 })
	void visitsReplaceAnyShareOfTheWater(double share) {
		assertThat(new SeasonVisit(1, null, Map.of(), List.of(), false, share).replaced()).isEqualTo(share);
	}

	@ParameterizedTest
	@ValueSource(doubles = { -0.01, 1.01, Double.NaN })
	void visitsDoNotReplaceMoreThanAllOrLessThanNothing(double share) {
		assertThatIllegalArgumentException().isThrownBy(() -> new SeasonVisit(1, null, Map.of(), List.of(), false, share));
	}

	@Test
	void readingsAreNotBelowZero() {
		assertThat(new Reading(0, ReadingQualifier.EXACT, TestPrecision.TURBIDITY_TUBE).value()).isZero();
		for (double impossible : new double[]{ -0.1, Double.NaN, Double.POSITIVE_INFINITY }) {
			assertThatIllegalArgumentException()
				.isThrownBy(() -> new Reading(impossible, ReadingQualifier.EXACT, TestPrecision.TURBIDITY_TUBE));
		}
	}

	@Test
	void dosesBringNoChlorineBelowZeroAndLastNoTimeBelowZero() {
		assertThat(new Dose(DoseKind.TABLETS, 0, null, 0).change()).isNull();
		assertThatIllegalArgumentException().isThrownBy(() -> new Dose(DoseKind.TABLETS, -0.1, null, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new Dose(DoseKind.TABLETS, Double.POSITIVE_INFINITY, null, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new Dose(DoseKind.TABLETS, 1, null, -1));
	}

	/** A tablet dissolves over about a week (common practice, no source), everything else acts on the day. */
	@ParameterizedTest
	@CsvSource({ "TRICHLOR_TAB, 7", "TRICHLOR_GRAN, 0", "CYA, 0" })
	void onlyTabletsAreSpreadOverAWeek(ProductKind kind, int days) {
		assertThat(Dose.of(new RecordedDose(kind, 0.6, null, 500), 60_000.0).spreadDays()).isEqualTo(days);
		Dose unknown = Dose.of(new RecordedDose(kind, 0.6, null, 500), null);
		assertThat(unknown.spreadDays()).isEqualTo(days);
		assertThat(unknown.chlorine()).as("in no known volume").isZero();
	}

	@Test
	void poolsHaveAVolumeAndAnAreaAboveZeroOrNone() {
		assertThat(pool(null, null).volume()).isNull();
		assertThat(pool(0.1, 0.1).area()).isEqualTo(0.1);
		assertThatIllegalArgumentException().isThrownBy(() -> pool(0.0, 42.0));
		assertThatIllegalArgumentException().isThrownBy(() -> pool(60.0, 0.0));
		assertThatIllegalArgumentException().isThrownBy(() -> pool(Double.NaN, 42.0));
	}

	private static SeasonPool pool(@Nullable Double volume, @Nullable Double area) {
		return new SeasonPool(volume, area, true, false, true, true, false, Map.of(), Map.of(), null);
	}

	@ParameterizedTest
	@CsvSource({ "50, 50, 0.5, true", "49, 50, 0.5, false", "50, 49, 0.5, false", "50, 50, 0, false", "50, 50, 1, false",
			"50, 50, 0.01, true", "50, 50, 0.99, true" })
	void settingsNeedParticlesAndAThresholdBetweenNeverAndAlways(int particles, int ensemble, double threshold, boolean possible) {
		if (possible) {
			DriftSettings settings = new DriftSettings(particles, ensemble, threshold);
			assertThat(settings.withFlagThreshold(0.3)).isEqualTo(new DriftSettings(particles, ensemble, 0.3));
		}
		else {
			assertThatIllegalArgumentException().isThrownBy(() -> new DriftSettings(particles, ensemble, threshold));
		}
	}

	@Test
	void drainsReplaceAShareAboveZeroUpToAll() {
		assertThat(new Scenario.Change.PartialDrain(1, 1).share()).isEqualTo(1);
		assertThatIllegalArgumentException().isThrownBy(() -> new Scenario.Change.PartialDrain(1, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new Scenario.Change.PartialDrain(1, 1.01));
	}

	@Test
	void switchesAreToKindsOfChlorineThatAddUpToAll() {
		Map<DoseKind, Double> halves = Map.of(DoseKind.TABLETS, 0.5, DoseKind.LIQUID_CHLORINE, 0.5);
		assertThat(new Scenario.Change.ProductSwitch(1, halves).shares()).isEqualTo(halves);
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new Scenario.Change.ProductSwitch(1, Map.of(DoseKind.TABLETS, 0.5, DoseKind.LIQUID_CHLORINE, 0.4)));
		assertThatIllegalArgumentException().isThrownBy(() -> new Scenario.Change.ProductSwitch(1, Map.of(DoseKind.TABLETS, 1.1)));
		assertThatIllegalArgumentException().isThrownBy(() -> new Scenario.Change.ProductSwitch(1, Map.of(DoseKind.STABILIZER, 1.0)));
	}

	@Test
	void changesOfAScenarioAreInOrderOfTheirDays() {
		Scenario.Change late = new Scenario.Change.PartialDrain(9, 0.5);
		Scenario.Change early = new Scenario.Change.Cell(3, 1500);
		assertThat(new Scenario("both", List.of(late, early)).changes()).containsExactly(early, late);
	}

	@Test
	void costsAddUp() {
		assertThat(new Scenario.Cost(1, 20, 300, 4000).total()).isEqualTo(4321);
	}

	/** The nearer median day comes first; without any, the likelier exit. */
	@Test
	void levelThatLeavesFirstIsNamed() {
		RangeExit soon = new RangeExit(100, 5L, 10L, null, 0.8, 0.9, List.of());
		RangeExit later = new RangeExit(100, 5L, 20L, null, 0.8, 0.95, List.of());
		RangeExit likely = new RangeExit(100, null, null, null, 0.1, 0.4, List.of());
		RangeExit unlikely = new RangeExit(100, null, null, null, 0.1, 0.2, List.of());
		assertThat(season(later, soon).firstToExit()).contains(Level.CH);
		assertThat(season(soon, later).firstToExit()).contains(Level.CYA);
		assertThat(season(likely, later).firstToExit()).contains(Level.CH);
		assertThat(season(likely, unlikely).firstToExit()).contains(Level.CYA);
		assertThat(season(unlikely, likely).firstToExit()).contains(Level.CH);
		assertThat(new SeasonDrift(0, 90, Map.of(), List.of()).firstToExit()).isEmpty();
	}

	private static SeasonDrift season(RangeExit cya, RangeExit ch) {
		return new SeasonDrift(0, 90, Map.of(Level.CYA, level(Level.CYA, cya), Level.CH, level(Level.CH, ch)), List.of());
	}

	private static LevelDrift level(Level level, RangeExit high) {
		return new LevelDrift(level, null, null, List.of(), List.of(), null, Map.of(RangeEnd.HIGH, high), null, null, null, List.of());
	}

}
