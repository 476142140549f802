package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.assess.LastKnownLevels.DatedValue;
import org.meniscus.water.assess.LastKnownLevels.EarlierVisit;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;

/** Slow levels by mass balance since their last test. */
class LastKnownLevelsTests {

	private static final PoolFacts POOL = Pools.plaster(15_000).withFill(new FillWater(7.6, 80.0, 120.0, 200.0));

	/** How long a test stands: common practice, no source (docs of the class). */
	@ParameterizedTest
	@CsvSource({ "TA, 21", "CH, 120", "CYA, 60", "SALT, 60", "BORATE, 120" })
	void aTestStandsForItsTimeAndNoDayLonger(Level level, int days) {
		assertThat(known(visit(days, of(level, 90))).values()).containsExactly(Map.entry(level, new DatedValue(90, days)));
		assertThat(known(visit(days + 1, of(level, 90))).values()).isEmpty();
	}

	@Test
	void fastLevelsAreNeverCarried() {
		assertThat(known(visit(1, Readings.builder().fc(3.0).cc(0.2).ph(7.5).celsius(25.0).tds(900.0).phosphate(100.0).build())).values())
			.isEmpty();
	}

	@Test
	void theNewestTestCountsAndEverythingDosedSince() {
		LastKnownLevels known = known(visit(3, Readings.none(), Map.of(Level.CYA, 4.0), null),
				visit(10, of(Level.CYA, 40), Map.of(Level.CYA, 6.0), null), visit(20, of(Level.CYA, 90), Map.of(Level.CYA, 50.0), null));
		assertThat(known.values()).containsExactly(Map.entry(Level.CYA, new DatedValue(40 + 6 + 4, 10)));
	}

	/** By hand: a quarter replaced after the test and then dosed; the fill water holds no CYA and 120 ppm of hardness. */
	@Test
	void replacedWaterIsMixedIn() {
		LastKnownLevels known = known(visit(5, Readings.builder().cya(60.0).ch(400.0).ta(100.0).salt(3000.0).build(), Map.of(), 0.25));
		assertThat(known.values().get(Level.CYA).value()).isCloseTo(45, within(1e-9));
		assertThat(known.values().get(Level.CH).value()).isCloseTo(0.75 * 400 + 0.25 * 120, within(1e-9));
		assertThat(known.values().get(Level.TA).value()).isCloseTo(0.75 * 100 + 0.25 * 80, within(1e-9));
		assertThat(known.values().get(Level.SALT).value()).isCloseTo(0.75 * 3000 + 0.25 * 200, within(1e-9));
		PoolFacts unknownFill = Pools.plaster(15_000);
		assertThat(LastKnownLevels
			.of(List.of(visit(5, Readings.builder().cya(60.0).ch(400.0).build(), Map.of(), 0.25)), unknownFill)
			.values()).as("nobody knows what came in with the fill water").containsOnlyKeys(Level.CYA);
	}

	@Test
	void aDoseOfUnknownStrengthEndsWhatIsKnown() {
		assertThat(known(visit(3, Readings.none(), null, null), visit(10, of(Level.CYA, 40))).values()).isEmpty();
		assertThat(known(visit(3, of(Level.CYA, 40)), visit(10, Readings.none(), null, null)).values()).as("tested again since")
			.containsOnlyKeys(Level.CYA);
	}

	@Test
	void theEndOfATubeIsNoValueAndHidesOlderTests() {
		Readings beyond = Readings.builder().cya(100.0, ReadingQualifier.ABOVE).build();
		assertThat(known(visit(3, beyond), visit(10, of(Level.CYA, 40))).values()).isEmpty();
	}

	@Test
	void noLevelFallsBelowNothing() {
		assertThat(known(visit(3, of(Level.TA, 20), Map.of(Level.TA, -30.0), null)).values().get(Level.TA).value()).isZero();
	}

	@Test
	void whatIsTestedTodayGoesBeforeWhatIsKnown() {
		Readings all = Readings.builder().ta(90.0).ch(300.0).cya(50.0).salt(1500.0).borate(30.0).build();
		LastKnownLevels known = known(visit(7, all));
		Readings filled = known.fillIn(Readings.builder().fc(2.0).ph(7.4).ta(110.0).build());
		assertThat(filled).isEqualTo(
				Readings.builder().fc(2.0).ph(7.4).ta(110.0).ch(300.0).cya(50.0).salt(1500.0).borate(30.0).build());
		assertThat(known.fillIn(all.toBuilder().cya(30.0, ReadingQualifier.BELOW).build()).cyaQualifier())
			.isEqualTo(ReadingQualifier.BELOW);
		assertThat(LastKnownLevels.none().fillIn(Readings.none())).isEqualTo(Readings.none());
	}

	@Test
	void whatStandsInForATestIsSaidWithItsAge() {
		LastKnownLevels known = known(visit(7, Readings.builder().ta(90.0).cya(50.0).build()));
		assertThat(known.notes(Readings.builder().ta(100.0).build())).containsExactly(
				Reason.of("note.carried", Term.of(Level.CYA), Term.of(Level.CYA, 50), new Term.Days(7)));
	}

	private static LastKnownLevels known(EarlierVisit... visits) {
		return LastKnownLevels.of(List.of(visits), POOL);
	}

	private static EarlierVisit visit(int daysAgo, Readings readings) {
		return visit(daysAgo, readings, Map.of(), null);
	}

	private static EarlierVisit visit(int daysAgo, Readings readings, @Nullable Map<Level, Double> changes, @Nullable Double replaced) {
		return new EarlierVisit(daysAgo, readings, changes, replaced);
	}

	private static Readings of(Level level, double value) {
		return switch (level) {
			case TA -> Readings.builder().ta(value).build();
			case CH -> Readings.builder().ch(value).build();
			case CYA -> Readings.builder().cya(value).build();
			case SALT -> Readings.builder().salt(value).build();
			case BORATE -> Readings.builder().borate(value).build();
			default -> throw new AssertionError(level);
		};
	}

}
