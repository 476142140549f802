package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.text.MessageFormat;
import java.util.Arrays;
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
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingBounds;
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

	private static List<Level> entered() {
		return Arrays.stream(Level.values()).filter(level -> ReadingBounds.of(level, BodyOfWater.POOL) != null).toList();
	}

	/** The figures themselves are compared with the trade table elsewhere; here, on which side of them a reading may lie. */
	@ParameterizedTest
	@MethodSource("entered")
	void nothingOutsideItsHardBoundsIsTakenAndEverythingInsideIs(Level level) {
		ReadingBounds bounds = Objects.requireNonNull(ReadingBounds.of(level, BodyOfWater.POOL));
		for (double inside : new double[]{ bounds.hardMin(), bounds.hardMax() }) {
			assertThat(only(level, inside)).as("%s", inside).noneMatch(finding -> finding.kind() == ReadingFinding.Kind.IMPOSSIBLE);
		}
		for (double outside : new double[]{ bounds.hardMin() - 0.01, bounds.hardMax() + 0.01 }) {
			assertThat(only(level, outside)).singleElement().satisfies(finding -> {
				assertThat(finding.kind()).isEqualTo(ReadingFinding.Kind.IMPOSSIBLE);
				assertThat(finding.level()).isEqualTo(level);
				assertThat(finding.reason().args()).containsExactly(Term.of(level), Term.of(level, outside),
						Term.of(level, bounds.hardMin()), Term.of(level, bounds.hardMax()));
			});
		}
	}

	@ParameterizedTest
	@MethodSource("entered")
	void anUnlikelyReadingIsAskedAboutOnceItPassesItsLimit(Level level) {
		ReadingBounds bounds = Objects.requireNonNull(ReadingBounds.of(level, BodyOfWater.POOL));
		String low = "reading.unlikely-low";
		String high = "reading.unlikely-high";
		if (bounds.askAbove() != null) {
			assertThat(codes(only(level, bounds.askAbove()))).doesNotContain(high);
			assertThat(codes(only(level, bounds.askAbove() + 0.01))).contains(high);
		}
		if (bounds.askBelow() != null && bounds.askBelow() > bounds.hardMin()) {
			assertThat(codes(only(level, bounds.askBelow()))).doesNotContain(low);
			assertThat(codes(only(level, bounds.askBelow() - 0.01))).contains(low);
		}
		assertThat(codes(only(level, (bounds.typicalLow() + bounds.typicalHigh()) / 2))).isEmpty();
	}

	@Test
	void levelsOfASpaAreBoundedAsASpas() {
		PoolFacts spa = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.BROMINE);
		assertThat(ReadingCheck.check(Readings.builder().celsius(39.0).build(), null, spa, Set.of())).as("102 °F").isEmpty();
		assertThat(codes(ReadingCheck.check(Readings.builder().celsius(39.0).build(), null, POOL, Set.of())))
			.containsExactly("reading.unlikely-high");
	}

	/** The unit trap of the table: ppb, asked about where a value below 10 is typed. */
	@ParameterizedTest
	@CsvSource({ "0, ''", "0.5, reading.phosphate-unit", "9.9, reading.phosphate-unit", "10, ''" })
	void phosphateInPpmIsAskedAbout(double phosphate, String code) {
		assertThat(codes(only(Level.PHOSPHATE, phosphate))).isEqualTo(code.isEmpty() ? List.of() : List.of(code));
	}

	/** Column ask_again_if_change_since_last_visit: up or down more than 0.6 of pH, FC up more than 10, nothing about FC that falls. */
	@ParameterizedTest
	@CsvSource({ "PH, 7.2, 7.8, ''", "PH, 7.2, 7.9, reading.rose", "PH, 7.9, 7.2, reading.fell", "PH, 7.8, 7.2, ''", "FC, 1, 11, ''",
			"FC, 0.5, 11, reading.rose", "FC, 14, 1, ''", "CH, 400, 340, ''", "CH, 400, 339, reading.fell", "CH, 300, 350, ''",
			"CH, 300, 351, reading.rose" })
	void aChangeSinceTheLastVisitIsAskedAboutBeyondItsLimit(Level level, double before, double now, String code) {
		List<ReadingFinding> found = ReadingCheck.check(readings(level, now), readings(level, before));
		assertThat(codes(found).stream().filter(said -> !said.startsWith("reading.ph-")).toList())
			.isEqualTo(code.isEmpty() ? List.of() : List.of(code));
		assertThat(codes(ReadingCheck.check(readings(level, now), readings(level, before), POOL, Set.of(level))))
			.as("explained by what was recorded")
			.noneMatch(said -> said.equals("reading.rose") || said.equals("reading.fell"));
	}

	@Test
	void aMarkOfTheScaleIsNoChange() {
		Readings before = Readings.builder().ph(8.2, ReadingQualifier.ABOVE).build();
		assertThat(ReadingCheck.check(Readings.builder().ph(7.4).build(), before)).isEmpty();
		assertThat(ReadingCheck.check(before, Readings.builder().ph(7.4).build())).isEmpty();
	}

	/** Cross checks of the table: TC >= FC - 0.2, TC - FC = CC. */
	@ParameterizedTest
	@CsvSource(nullValues = "-", value = { "3, 2.8, -, ''", "3, 2.7, -, reading.fc-above-tc", "3, 3.4, 0.4, ''", "3, 3.4, 0.6, ''",
			"3, 3.4, 0.7, reading.cc-not-the-difference", "3, 3.4, 0.1, reading.cc-not-the-difference", "3, -, 0.4, ''",
			"0, 1, -, ''", "0, 1.2, -, reading.all-combined", "0, -, 1.2, reading.all-combined", "0.1, 1.5, -, ''", "10, -, -, ''" })
	void chlorineTestsThatContradictEachOtherAreAskedAbout(double fc, Double tc, Double cc, String code) {
		List<ReadingFinding> found = ReadingCheck.check(Readings.builder().fc(fc).tc(tc).cc(cc).build(), null);
		assertThat(codes(found)).isEqualTo(code.isEmpty() ? List.of() : List.of(code));
		assertThat(found).allMatch(finding -> finding.kind() == ReadingFinding.Kind.CONTRADICTION);
	}

	@Test
	void noChlorineWhereOneIsFedByItselfMayBeABleachedTest() {
		Readings none = Readings.builder().fc(0.0).build();
		for (Sanitizer sanitizer : Sanitizer.values()) {
			PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer);
			boolean fed = sanitizer == Sanitizer.SALT_CELL || sanitizer == Sanitizer.TABLET_FEEDER || sanitizer == Sanitizer.FLOATER;
			assertThat(codes(ReadingCheck.check(none, null, pool, Set.of()))).as(sanitizer.name())
				.isEqualTo(fed ? List.of("reading.fc-bleached") : List.of());
		}
		PoolFacts cell = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		assertThat(ReadingCheck.check(Readings.builder().fc(0.2).build(), null, cell, Set.of())).isEmpty();
	}

	/** FC above about 10 turns phenol red purple: row ph of the table. */
	@Test
	void phUnderMuchChlorineIsDoubted() {
		assertThat(codes(ReadingCheck.check(Readings.builder().fc(10.1).ph(7.5).build(), null))).containsExactly("reading.ph-doubtful");
		assertThat(ReadingCheck.check(Readings.builder().fc(10.0).ph(7.5).build(), null)).isEmpty();
		assertThat(ReadingCheck.check(Readings.builder().fc(10.1).build(), null)).isEmpty();
	}

	@Test
	void solidsAreNeverLessThanTheSaltInThem() {
		assertThat(codes(ReadingCheck.check(Readings.builder().tds(3000.0).salt(3000.0).build(), null))).isEmpty();
		assertThat(codes(ReadingCheck.check(Readings.builder().tds(2950.0).salt(3000.0).build(), null)))
			.containsExactly("reading.tds-below-salt");
	}

	/** A third of the CYA near pH 7.5 and 0.12 of boron at 7.6 count in TA (row total_alkalinity; the reference's README, section 6). */
	@Test
	void alkalinityUnderTheShareOfStabilizerAndBorateIsAskedAbout() {
		Readings.Builder readings = Readings.builder().ph(7.5).cya(120.0).celsius(25.0);
		List<ReadingFinding> found = ReadingCheck.check(readings.ta(50.0).build(), null);
		assertThat(found).isEmpty();
		found = ReadingCheck.check(readings.ta(32.0).build(), null);
		assertThat(codes(found)).contains("reading.ta-below-share");
		Reason reason = found.stream().filter(f -> f.kind() == ReadingFinding.Kind.CONTRADICTION).findFirst().orElseThrow().reason();
		double held = ((Term.Value) reason.args().get(1)).value();
		assertThat(held).isCloseTo(120 / 3.0, within(4.0));
		assertThat(reason.args().get(2)).isEqualTo(new Term.Difference(Level.TA, held - 32));
		Readings borate = Readings.builder().ph(7.6).borate(100.0).ta(41.0).build();
		assertThat(ReadingCheck.check(borate, null)).as("12 ppm in boron").isEmpty();
		assertThat(codes(ReadingCheck.check(borate.toBuilder().ta(8.0).build(), null))).contains("reading.ta-below-share");
		assertThat(codes(ReadingCheck.check(readings.ta(32.0).cya(120.0, ReadingQualifier.BELOW).build(), null)))
			.as("less than 120 may be little")
			.doesNotContain("reading.ta-below-share");
		assertThat(codes(ReadingCheck.check(Readings.builder().ph(7.5).ta(2.0).build(), null))).as("neither was tested")
			.doesNotContain("reading.ta-below-share");
	}

	@Test
	void nothingIsComparedOnceAReadingIsImpossible() {
		assertThat(codes(ReadingCheck.check(Readings.builder().fc(3.0).tc(1.0).ph(15.0).build(), null)))
			.containsExactly("reading.impossible");
	}

	private static List<ReadingFinding> only(Level level, double value) {
		return ReadingCheck.check(readings(level, value), null);
	}

	private static List<String> codes(List<ReadingFinding> findings) {
		return findings.stream().map(finding -> finding.reason().code()).toList();
	}

	private static Readings readings(Level level, double value) {
		Readings.Builder readings = Readings.builder();
		return switch (level) {
			case FC -> readings.fc(value).build();
			case TC -> readings.tc(value).build();
			case CC -> readings.cc(value).build();
			case BROMINE -> readings.bromine(value).build();
			case PH -> readings.ph(value).build();
			case TA -> readings.ta(value).build();
			case CH -> readings.ch(value).build();
			case CYA -> readings.cya(value).build();
			case SALT -> readings.salt(value).build();
			case TDS -> readings.tds(value).build();
			case BORATE -> readings.borate(value).build();
			case PHOSPHATE, COPPER, IRON, MANGANESE, AMMONIA -> readings.trace(level, value).build();
			case TEMPERATURE -> readings.celsius(value).build();
			default -> throw new AssertionError(level);
		};
	}

}
