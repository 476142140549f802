package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.text.MessageFormat;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Properties;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.units.UnitSystem;

/**
 * Readings that the mass balance contradicts are asked about with the likely cause. Limits: trade table {@code reading-bounds.csv},
 * column {@code ask_again_if_change_since_last_visit}; what widens them with time is common practice, no source.
 */
class ReadingCheckTests {

	private static final PoolFacts POOL = Pools.plaster(15_000);

	private static ExpectedReadings expecting(Level level, double value, int days) {
		return new ExpectedReadings(new LastKnownLevels(Map.of(level, new LastKnownLevels.DatedValue(value, days))), null, days);
	}

	private static List<String> asked(Readings.Builder readings, ExpectedReadings expectedReadings) {
		return asked(readings, null, expectedReadings, POOL);
	}

	private static List<String> asked(Readings.Builder readings, @Nullable Readings previous, ExpectedReadings expectedReadings,
			PoolFacts pool) {
		return ReadingCheck.check(readings.build(), previous, pool, Set.of(), expectedReadings).stream()
			.map(finding -> finding.reason().code())
			.toList();
	}

	private static Readings.Builder with(Level level, double value) {
		Readings.Builder readings = Pools.balanced();
		return switch (level) {
			case CYA -> readings.cya(value);
			case CH -> readings.ch(value);
			case SALT -> readings.salt(value);
			case TA -> readings.ta(value);
			default -> throw new IllegalArgumentException(level.name());
		};
	}

	/** More than 20 up or 15 down, 50 up or 15 % down, 600, 40. */
	@ParameterizedTest
	@CsvSource({ "CYA, 40, 60, ''", "CYA, 40, 65, reading.cya-rose", "CYA, 60, 45, ''", "CYA, 60, 40, reading.cya-fell", "CH, 300, 350, ''",
			"CH, 300, 370, reading.ch-rose", "CH, 400, 340, ''", "CH, 400, 330, reading.ch-fell", "SALT, 3000, 3600, ''",
			"SALT, 3000, 3650, reading.salt-rose", "SALT, 3600, 2950, reading.salt-fell", "TA, 100, 140, ''",
			"TA, 100, 150, reading.ta-rose",
			"TA, 120, 70, reading.ta-fell" })
	void aSlowLevelIsAskedAboutWhereTheBalanceSaysOtherwise(Level level, double expected, double read, String code) {
		List<String> asked = asked(with(level, read), expecting(level, expected, 0));
		assertThat(asked).isEqualTo(code.isEmpty() ? List.of() : List.of(code));
	}

	@Test
	void whatWasDosedIsCountedInNotTakenAsAnExcuse() {
		// 8 ppm of stabilizer went in with dichlor: 50 explains itself, 75 does not.
		LastKnownLevels lastKnown = LastKnownLevels
			.of(List.of(new LastKnownLevels.EarlierVisit(7, Pools.balanced().cya(40.0).build(), Map.of(Level.CYA, 8.0), null)), POOL);
		ExpectedReadings expectedReadings = new ExpectedReadings(lastKnown, null, 7);
		Readings last = Pools.balanced().cya(40.0).build();
		assertThat(asked(Pools.balanced().cya(65.0), last, expectedReadings, POOL)).isEmpty();
		List<ReadingFinding> found = ReadingCheck.check(Pools.balanced().cya(75.0).build(), last, POOL, Set.of(Level.CYA),
				expectedReadings);
		assertThat(found).extracting(finding -> finding.reason().code()).containsExactly("reading.cya-rose");
		assertThat(found.get(0).reason().args()).contains(Term.of(Level.CYA, 75), Term.of(Level.CYA, 48), new Term.Days(7));
	}

	@Test
	void theLongerAgoTheTestTheMoreMayHaveDrifted() {
		assertThat(asked(Pools.balanced().cya(68.0), expecting(Level.CYA, 40, 0))).containsExactly("reading.cya-rose");
		assertThat(asked(Pools.balanced().cya(68.0), expecting(Level.CYA, 40, 30))).isEmpty();
	}

	@Test
	void anEndOfTheTubeIsAskedAboutOnlyWhereItContradicts() {
		assertThat(asked(Pools.balanced().cya(100.0, ReadingQualifier.ABOVE), expecting(Level.CYA, 40, 7)))
			.containsExactly("reading.cya-rose");
		assertThat(asked(Pools.balanced().cya(100.0, ReadingQualifier.ABOVE), expecting(Level.CYA, 130, 7))).isEmpty();
		assertThat(asked(Pools.balanced().cya(30.0, ReadingQualifier.BELOW), expecting(Level.CYA, 70, 7)))
			.containsExactly("reading.cya-fell");
		assertThat(asked(Pools.balanced().cya(30.0, ReadingQualifier.BELOW), expecting(Level.CYA, 10, 7))).isEmpty();
	}

	@Test
	void levelsThatFallTogetherAreOneQuestionAboutLostWater() {
		Map<Level, LastKnownLevels.DatedValue> expected = new EnumMap<>(Level.class);
		expected.put(Level.CYA, new LastKnownLevels.DatedValue(60, 14));
		expected.put(Level.CH, new LastKnownLevels.DatedValue(400, 14));
		ExpectedReadings expectedReadings = new ExpectedReadings(new LastKnownLevels(expected), null, 14);
		List<ReadingFinding> found = ReadingCheck.check(Pools.balanced().cya(45.0).ch(300.0).build(), null, POOL, Set.of(),
				expectedReadings);
		assertThat(found).extracting(finding -> finding.reason().code()).containsExactly("reading.diluted");
		assertThat(found.get(0).reason().args()).containsExactly(
				new Term.Words(List.of(Wording.levelKey(Level.CYA), Wording.levelKey(Level.CH))), new Term.Share(0.25));
		assertThat(asked(Pools.balanced().cya(45.0).ch(390.0), expectedReadings)).as("one alone").doesNotContain("reading.diluted");
	}

	@Test
	void noChlorineSoonAfterALargeDoseMayBeABleachedTest() {
		// Low or colourless above about 8 to 10 ppm: Taylor Technologies, note on DPD bleaching.
		assertThat(asked(Pools.balanced().fc(0.0), new ExpectedReadings(LastKnownLevels.none(), 14.0, 1)))
			.containsExactly("reading.fc-bleached-dose");
		assertThat(asked(Pools.balanced().fc(0.0), new ExpectedReadings(LastKnownLevels.none(), 14.0, 7))).as("a week later").isEmpty();
		assertThat(asked(Pools.balanced().fc(0.0), new ExpectedReadings(LastKnownLevels.none(), 5.0, 1))).as("no large dose").isEmpty();
		assertThat(asked(Pools.balanced().fc(6.0), new ExpectedReadings(LastKnownLevels.none(), 14.0, 1))).isEmpty();
	}

	@ParameterizedTest
	@CsvSource({ "3, reading.fc-bleached-dose", "4, ''" })
	void aBleachedTestIsAskedAboutForThreeDays(int days, String code) {
		assertThat(asked(Pools.balanced().fc(0.0), new ExpectedReadings(LastKnownLevels.none(), 14.0, days)))
			.isEqualTo(code.isEmpty() ? List.of() : List.of(code));
	}

	@Test
	void moreChlorineThanAnybodyRecordedIsAskedAboutWhereOnlyHandsAddIt() {
		ExpectedReadings expectedReadings = new ExpectedReadings(LastKnownLevels.none(), 3.0, 7);
		assertThat(asked(Pools.balanced().fc(8.0), expectedReadings)).isEmpty();
		assertThat(asked(Pools.balanced().fc(8.5), expectedReadings)).containsExactly("reading.fc-unexplained");
		PoolFacts fed = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.TABLET_FEEDER);
		assertThat(asked(Pools.balanced().fc(8.5), null, expectedReadings, fed)).as("a feeder adds by itself").isEmpty();
	}

	@ParameterizedTest
	@CsvSource({ "6.8, reading.ph-scale-low", "8.2, reading.ph-scale-high", "6.9, ''", "8.1, ''" })
	void aPhAtTheEndOfTheColourScaleIsAskedAboutUnlessItIsMarked(double ph, String code) {
		assertThat(asked(Pools.balanced().ph(ph), ExpectedReadings.none())).isEqualTo(code.isEmpty() ? List.of() : List.of(code));
		assertThat(asked(Pools.balanced().ph(ph, (ph < 7) ? ReadingQualifier.BELOW : ReadingQualifier.ABOVE), ExpectedReadings.none()))
			.isEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "_es" })
	void everyQuestionHasWords(String language) throws IOException {
		Properties texts = new Properties();
		try (Reader reader = new InputStreamReader(
				Objects.requireNonNull(getClass().getResourceAsStream("/messages/water" + language + ".properties")),
				StandardCharsets.UTF_8)) {
			texts.load(reader);
		}
		Wording.Texts lookup = (key, args) -> MessageFormat.format(Objects.requireNonNull(texts.getProperty(key), key), args);
		Map<Level, LastKnownLevels.DatedValue> expected = new EnumMap<>(Level.class);
		for (Level level : List.of(Level.TA, Level.CH, Level.CYA, Level.SALT, Level.BORATE)) {
			expected.put(level, new LastKnownLevels.DatedValue(200, 3));
		}
		ExpectedReadings expectedReadings = new ExpectedReadings(new LastKnownLevels(expected), 12.0, 2);
		int reasons = 0;
		for (double level : new double[]{ 20, 150, 1500 }) {
			Readings readings = Readings.builder().fc(level > 1000 ? 40.0 : 0.0).ph(level > 100 ? 8.2 : 6.8).ta(Math.min(level, 500))
				.ch(level)
				.cya(Math.min(level, 400)).salt(level).borate(Math.min(level, 290)).build();
			for (ReadingFinding finding : ReadingCheck.check(readings, null, POOL, Set.of(), expectedReadings)) {
				assertThat(finding.reason().format(UnitSystem.US, lookup)).doesNotContain("{", "null");
				reasons++;
			}
		}
		assertThat(reasons).isGreaterThan(12);
	}

}
