package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonVisit.Dose;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.DatedBand;

/** Pools made up here; what must hold for any pool. */
class DriftEngineTests {

	private static final long MAY = LocalDate.of(2026, 5, 1).toEpochDay();

	private static final Range CYA = new Range(30, 30, 50, 100, "made up");

	private static final Range CH = new Range(150, 200, 400, 1000, "made up");

	private static final DriftEngine ENGINE = new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 200, 0.76));

	@Test
	void tabletsRaiseStabilizerPastItsMaximumAndTheFlagComesWeeksAhead() {
		List<SeasonVisit> visits = tabletSeason(70, 12);
		LevelDrift cya = new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 200, 0.5))
			.assess(record(visits), today(visits), today(visits) + 112, Map.of()).level(Level.CYA).orElseThrow();
		assertThat(cya.today().low()).isLessThan(cya.today().middle());
		assertThat(cya.today().high()).isGreaterThan(cya.today().middle());
		assertThat(cya.today().middle()).isLessThan(100);
		assertThat(cya.flag()).isNotNull();
		assertThat(cya.flag().end()).isEqualTo(RangeEnd.HIGH);
		LevelDrift.RangeExit high = cya.exits().get(RangeEnd.HIGH);
		assertThat(high.day10()).isGreaterThanOrEqualTo(today(visits)).isLessThanOrEqualTo(high.day50());
		assertThat(high.chances()).isSortedAccordingTo((a, b) -> Double.compare(a.probability(), b.probability()));
		assertThat(cya.exits().get(RangeEnd.LOW).probabilityWithinHorizon()).isLessThan(0.05);
	}

	@Test
	void assessmentIsDeterministic() {
		List<SeasonVisit> visits = tabletSeason(60, 12);
		assertThat(assess(visits)).isEqualTo(assess(new ArrayList<>(visits)));
		SeasonRecord record = record(visits);
		assertThat(new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 200, 0.76)).explain(record, today(visits),
				today(visits) + 100, Map.of()))
			.isEqualTo(ENGINE.explain(record, today(visits), today(visits) + 100, Map.of()));
	}

	@Test
	void standingFlagIsClearedOnlyFarBelowTheThreshold() {
		List<SeasonVisit> visits = tabletSeason(44, 12);
		SeasonRecord record = record(visits);
		long today = today(visits);
		Map<Level, LevelDrift.Flag> before = Map.of(Level.CYA, new LevelDrift.Flag(RangeEnd.HIGH, today - 30, 0.9));
		double probability = assess(visits).level(Level.CYA).orElseThrow().exits().get(RangeEnd.HIGH).probabilityWithinHorizon();
		LevelDrift.Flag none = new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 200, Math.min(0.99, probability + 0.05)))
			.assess(record, today, today + 100, Map.of()).level(Level.CYA).orElseThrow().flag();
		LevelDrift.Flag kept = new DriftEngine(ClimateNormals.HOT_DRY, new DriftSettings(400, 200, Math.min(0.99, probability + 0.05)))
			.assess(record, today, today + 100, before).level(Level.CYA).orElseThrow().flag();
		assertThat(none).isNull();
		assertThat(kept).isNotNull();
		assertThat(kept.since()).isEqualTo(today - 30);
		List<SeasonVisit> drained = new ArrayList<>(visits);
		drained.add(new SeasonVisit(today, "T", Map.of(), List.of(), false, 0.35));
		assertThat(assessWith(drained, before).level(Level.CYA).orElseThrow().flag()).isNull();
	}

	@Test
	void decimalSlipHardlyMovesTheLevel() {
		List<SeasonVisit> visits = tabletSeason(60, 12);
		double honest = assess(visits).level(Level.CYA).orElseThrow().today().middle();
		List<SeasonVisit> slip = new ArrayList<>(visits);
		slip.add(visit(today(visits) + 7, reading(7), List.of()));
		LevelDrift cya = assess(slip).level(Level.CYA).orElseThrow();
		assertThat(cya.today().middle()).isCloseTo(honest, within(8.0));
		assertThat(cya.notes()).anyMatch(note -> note.code() == DriftNote.Code.READING_DOUBTED);
	}

	@Test
	void swappedReadingsAreLeftOutAndNoted() {
		List<SeasonVisit> visits = new ArrayList<>(tabletSeason(60, 12));
		LevelDrift before = assess(visits).level(Level.CH).orElseThrow();
		visits.add(new SeasonVisit(today(visits) + 7, "T",
				Map.of(Level.CYA, new Reading(340, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER), Level.CH,
						new Reading(80, ReadingQualifier.EXACT, TestPrecision.titration(10))),
				List.of(), false, 0));
		SeasonDrift drift = assess(visits);
		assertThat(drift.notes()).anyMatch(note -> note.code() == DriftNote.Code.READINGS_SWAPPED);
		assertThat(drift.level(Level.CH).orElseThrow().today().middle()).isCloseTo(before.today().middle(), within(40.0));
	}

	@Test
	void plannedTabletsStopAtTheCyaLimitOfThePlans() {
		// tested at every visit, so that hardly any member of the forecast stands above the limit already
		List<SeasonVisit> visits = IntStream.rangeClosed(0, 12)
			.mapToObj(week -> visit(MAY + 7L * week, reading(44 + 2 * week),
					List.of(new Dose(DoseKind.TABLETS, 4.6, Map.of(Level.CYA, 2.8), 7))))
			.toList();
		double today = assess(visits).level(Level.CYA).orElseThrow().today().middle();
		double limit = today + 4;
		double on = cyaInThirteenWeeks(visits, null);
		double stopped = cyaInThirteenWeeks(visits, limit);
		assertThat(on).as("tablets go on").isGreaterThan(limit + 4);
		assertThat(stopped).as("the service puts none in from there on").isLessThan(on - 3).isCloseTo(limit, within(4.0));
		assertThat(cyaInThirteenWeeks(visits, today - 15)).as("it stands above already and they go in all the same").isCloseTo(on,
				within(1.0));
	}

	private static double cyaInThirteenWeeks(List<SeasonVisit> visits, Double tabletsUpTo) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, Map.of(Level.CH, 200.0),
				Map.of(Level.CYA, CYA, Level.CH, CH),
				tabletsUpTo);
		LevelDrift cya = ENGINE.assess(new SeasonRecord(pool, visits, TechnicianBias.NONE), today(visits), today(visits) + 91, Map.of())
			.level(Level.CYA)
			.orElseThrow();
		return cya.forecast().get(cya.forecast().size() - 1).band().middle();
	}

	@Test
	void volumeTenTimesTooLargeIsDoubted() {
		SeasonPool pool = new SeasonPool(600.0, 42.0, true, false, true, true, false, Map.of(Level.CH, 200.0),
				Map.of(Level.CYA, CYA, Level.CH, CH), null);
		List<SeasonVisit> visits = tabletSeason(60, 12);
		SeasonDrift drift = ENGINE.assess(new SeasonRecord(pool, visits, TechnicianBias.NONE), today(visits), today(visits) + 90, Map.of());
		DriftNote deviation = drift.notes().stream().filter(note -> note.code() == DriftNote.Code.VOLUME_DOUBTED).findFirst().orElseThrow();
		assertThat(deviation.figures().get(0)).isEqualTo(600);
		assertThat(deviation.figures().get(1)).isBetween(30.0, 200.0);
	}

	@Test
	void twoVisitsOfADayCountTogether() {
		List<SeasonVisit> visits = new ArrayList<>(tabletSeason(60, 12));
		double before = assess(visits).level(Level.CYA).orElseThrow().today().middle();
		visits.add(visit(today(visits), reading(before), List.of()));
		assertThat(assess(visits).level(Level.CYA).orElseThrow().today().middle()).isCloseTo(before, within(5.0));
	}

	@Test
	void doseWithoutStrengthIsNotedAndTakenAsTheUsualOne() {
		List<SeasonVisit> visits = new ArrayList<>(tabletSeason(60, 12));
		visits.add(visit(today(visits) + 7, null, List.of(new Dose(DoseKind.TABLETS, 0, null, 7))));
		SeasonDrift drift = assess(visits);
		assertThat(drift.notes()).anyMatch(note -> note.code() == DriftNote.Code.STRENGTH_UNKNOWN && note.figures().get(0) == 1);
		assertThat(drift.level(Level.CYA).orElseThrow().today()).isNotNull();
	}

	@Test
	void oneReadingGivesALevelWithANote() {
		SeasonDrift drift = assess(List.of(visit(MAY, reading(45), List.of())));
		LevelDrift cya = drift.level(Level.CYA).orElseThrow();
		assertThat(cya.today().middle()).isBetween(38.0, 55.0);
		assertThat(cya.notes()).anyMatch(note -> note.code() == DriftNote.Code.ONE_READING);
		LevelDrift ch = drift.level(Level.CH).orElseThrow();
		assertThat(ch.today()).isNull();
		assertThat(ch.notes()).anyMatch(note -> note.code() == DriftNote.Code.NOT_MEASURED);
		assertThat(assess(List.of()).level(Level.CYA).orElseThrow().today()).isNull();
	}

	@Test
	void readingBelowTheScaleIsABound() {
		Reading below = new Reading(30, ReadingQualifier.BELOW, TestPrecision.TURBIDITY_TUBE);
		List<SeasonVisit> visits = List.of(visit(MAY, below, List.of()), visit(MAY + 28, below, List.of()));
		LevelDrift cya = assess(visits).level(Level.CYA).orElseThrow();
		assertThat(cya.today().middle()).isLessThan(30);
		assertThat(cya.notes()).anyMatch(note -> note.code() == DriftNote.Code.SCALE_ENDED);
	}

	@Test
	void winterWithoutVisitsRestartsTheEstimate() {
		List<SeasonVisit> visits = new ArrayList<>(tabletSeason(60, 12));
		long spring = today(visits) + 150;
		visits.add(visit(spring, reading(40), List.of()));
		SeasonDrift drift = ENGINE.explain(record(visits), spring, spring + 90, Map.of());
		assertThat(drift.notes()).anyMatch(note -> note.code() == DriftNote.Code.RESTARTED && note.figures().get(0) == 150);
		assertThat(drift.level(Level.CYA).orElseThrow().today().middle()).isBetween(30.0, 55.0);
		assertThat(drift.level(Level.CYA).orElseThrow().causes().from()).isEqualTo(spring);
	}

	/** 70 ppm before the winter and one doubtful test after it: the estimate is drawn towards what water half replaced would have. */
	@Test
	void lastYearsLevelCountsAfterTheWinter() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week < 12; week++) {
			visits.add(visit(MAY + 7L * week, reading(70), List.of()));
		}
		visits.add(visit(MAY + 7L * 11 + 180, reading(160), List.of()));
		double after = assess(visits).levels().get(Level.CYA).today().middle();
		double alone = assess(visits.subList(12, 13)).levels().get(Level.CYA).today().middle();
		assertThat(after).isLessThan(alone - 10);
	}

	@Test
	void scenariosLowerTheirLevelsAndCostWhatTheyUse() {
		List<SeasonVisit> visits = tabletSeason(60, 12);
		long today = today(visits);
		Scenario.Prices prices = new Scenario.Prices(Map.of(DoseKind.TABLETS, 9.0, DoseKind.LIQUID_CHLORINE, 12.0), 3, 60);
		List<Scenario.Outcome> outcomes = ENGINE.compare(record(visits), today, today + 112, List.of(
				new Scenario("as now", List.of()),
				new Scenario("liquid", List.of(new Scenario.Change.ProductSwitch(today + 7, Map.of(DoseKind.LIQUID_CHLORINE, 1.0)))),
				new Scenario("drain", List.of(new Scenario.Change.PartialDrain(today + 14, 0.4))),
				new Scenario("soft", List.of(new Scenario.Change.FillWaterChange(today, Map.of(Level.CH, 20.0)))),
				new Scenario("cell", List.of(new Scenario.Change.Cell(today, 1500)))), prices);
		double now = end(outcomes.get(0), Level.CYA);
		assertThat(end(outcomes.get(1), Level.CYA)).isLessThan(now - 8);
		assertThat(end(outcomes.get(2), Level.CYA)).isLessThan(now - 20);
		assertThat(end(outcomes.get(3), Level.CYA)).isCloseTo(now, within(1e-9));
		assertThat(end(outcomes.get(3), Level.CH)).isLessThan(end(outcomes.get(0), Level.CH) - 20);
		assertThat(outcomes.get(4).cost().equipment()).isEqualTo(1500);
		assertThat(outcomes.get(4).cost().chemicals()).isLessThan(outcomes.get(0).cost().chemicals());
		Scenario.Cost drain = outcomes.get(2).cost();
		// 0.4 of 60 m3 at 3, one visit at 60
		assertThat(drain.water() - outcomes.get(0).cost().water()).isCloseTo(72, within(1e-6));
		assertThat(drain.visits()).isEqualTo(60);
		// the same chlorine at twelve instead of nine from the second week on
		assertThat(outcomes.get(1).cost().chemicals() / outcomes.get(0).cost().chemicals()).isBetween(1.2, 4.0 / 3 + 0.1);
		assertThat(drain.total()).isCloseTo(drain.chemicals() + drain.water() + drain.visits() + drain.equipment(), within(1e-9));
	}

	@Test
	void waterReplacementDilutesBorateAndSalt() {
		TestPrecision borate = TestPrecision.STRIP;
		List<SeasonVisit> visits = List.of(
				new SeasonVisit(MAY, "T",
						Map.of(Level.BORATE, new Reading(50, ReadingQualifier.EXACT, borate), Level.SALT,
								new Reading(3200, ReadingQualifier.EXACT, TestPrecision.CONDUCTIVITY)),
						List.of(), false, 0),
				new SeasonVisit(MAY + 14, "T", Map.of(Level.BORATE, new Reading(50, ReadingQualifier.EXACT, borate)), List.of(), false,
						0.5));
		SeasonDrift drift = assess(visits);
		assertThat(drift.level(Level.BORATE).orElseThrow().today().middle()).isBetween(20.0, 29.0);
		assertThat(drift.level(Level.SALT).orElseThrow().today().middle()).isBetween(1400.0, 1900.0);
	}

	@Test
	void recordedDoseChangesLevelsByItsStoichiometry() {
		// 1 kg of trichlor of 90 % available chlorine in 60 m3: 15 ppm chlorine, 0.607 ppm CYA for each: molar masses 129.075 / (3 x 70.906)
		Dose dose = Dose.of(new RecordedDose(ProductKind.TRICHLOR_TAB, 0.9, null, 1000), 60000.0);
		assertThat(dose.kind()).isEqualTo(DoseKind.TABLETS);
		assertThat(dose.chlorine()).isCloseTo(15, within(0.01));
		assertThat(dose.change().get(Level.CYA)).isCloseTo(9.10, within(0.02));
		assertThat(Dose.of(new RecordedDose(ProductKind.TRICHLOR_TAB, null, null, 1000), 60000.0).change()).isNull();
		assertThat(Dose.of(new RecordedDose(ProductKind.TRICHLOR_TAB, 0.9, null, 1000), null).change()).isNull();
	}

	/**
	 * By the balance of mass: fill water makes up for what evaporates and did not rain, and brings its hardness, 200 ppm, into 60 m3 under
	 * 42 m2; splash-out and backwash take some of it. Weather: the normals of {@link ClimateNormals}.
	 */
	@Test
	void baselineDriftOfHardnessIsWhatFillWaterBrings() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 16; week++) {
			Reading reading = new Reading(300 + 7 * week, ReadingQualifier.EXACT, TestPrecision.titration(10));
			visits.add(new SeasonVisit(MAY + 7L * week, "T", Map.of(Level.CH, reading), List.of(), false, 0));
		}
		double filled = 0;
		for (long day = today(visits); day < today(visits) + 112; day++) {
			ClimateNormals.Month weather = ClimateNormals.HOT_DRY.at(day);
			filled += weather.evaporation() - weather.rain() / 30.4;
		}
		double brought = 200 * filled / (1000 * 60.0 / 42) / 112;
		assertThat(assess(visits).level(Level.CH).orElseThrow().baselineDrift()).isBetween(0.75 * brought, brought);
	}

	@Test
	void baselineDriftOfStabilizerLeavesOutRecordedTablets() {
		List<SeasonVisit> visits = tabletSeason(50, 16);
		LevelDrift cya = ENGINE.explain(record(visits), today(visits), today(visits) + 112, Map.of()).level(Level.CYA).orElseThrow();
		double today = cya.today().middle();
		assertThat(cya.forecast().get(cya.forecast().size() - 1).band().middle()).as("the tablets go on").isGreaterThan(today);
		assertThat(cya.baselineDrift()).isNegative();
		// what each ppm loses a day, by the causes of 112 days since May and in the 112 days to come, as warm in the mean within 8 degrees
		LevelDrift.Causes causes = cya.causes();
		double lost = causes.part(DriftCause.BREAKDOWN) + causes.part(DriftCause.DILUTION) + causes.part(DriftCause.FILL_WATER);
		double since = lost / 112 / (0.5 * (causes.start().middle() + today));
		double ahead = cya.baselineDrift() / (today + 0.5 * 112 * cya.baselineDrift());
		assertThat(ahead / since).isBetween(0.6, 1.4);
	}

	@Test
	void baselineDriftIncludesUnrecordedSources() {
		List<SeasonVisit> visits = tabletSeason(30, 12).stream()
			.map(visit -> new SeasonVisit(visit.day(), "T", visit.readings(), List.of(), false, 0))
			.toList();
		LevelDrift fed = ENGINE.explain(record(visits), today(visits), today(visits) + 112, Map.of()).level(Level.CYA).orElseThrow();
		double recorded = assess(tabletSeason(30, 12)).level(Level.CYA).orElseThrow().baselineDrift();
		double unrecorded = fed.causes().part(DriftCause.UNRECORDED) / 84;
		assertThat(unrecorded).isGreaterThan(0.25);
		// a feeder is set back as the pool cools, and it may be given up
		assertThat((fed.baselineDrift() - recorded) / unrecorded).isBetween(0.4, 1.0);
	}

	@Test
	void baselineDriftIsUnknownWithoutEnoughEvidence() {
		List<SeasonVisit> visits = tabletSeason(50, 8);
		assertThat(baselineDrift(visits, 60.0, CYA)).isNotNull();
		assertThat(baselineDrift(visits, null, CYA)).as("doses cannot be counted").isNull();
		assertThat(baselineDrift(visits, 60.0, null)).as("nobody looks at it").isNull();
		assertThat(baselineDrift(visits, 60.0, new Range(48, 49, 51, 52, "made up"))).as("told less closely than it would matter").isNull();
		assertThat(baselineDrift(visits.subList(0, 4), 60.0, CYA)).as("one reading").isNull();
		assertThat(baselineDrift(List.of(), 60.0, CYA)).isNull();
	}

	private static Double baselineDrift(List<SeasonVisit> visits, Double volume, Range range) {
		SeasonPool pool = new SeasonPool(volume, 42.0, true, false, true, true, false, Map.of(),
				(range != null) ? Map.of(Level.CYA, range) : Map.of(), null);
		return ENGINE.assess(new SeasonRecord(pool, visits, TechnicianBias.NONE), today(visits), today(visits) + 112, Map.of())
			.level(Level.CYA)
			.map(LevelDrift::baselineDrift)
			.orElse(null);
	}

	private static double end(Scenario.Outcome outcome, Level level) {
		List<DatedBand> ahead = outcome.forecast().get(level);
		return ahead.get(ahead.size() - 1).band().middle();
	}

	/** Tablets at every weekly visit, CYA read each fourth, CH once in eight. */
	private static List<SeasonVisit> tabletSeason(double cya, int weeks) {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= weeks; week++) {
			Map<Level, Reading> readings = (week % 8 == 0)
					? Map.of(Level.CYA, reading(cya + 2 * week), Level.CH,
							new Reading(320, ReadingQualifier.EXACT, TestPrecision.titration(10)))
					: (week % 4 == 0) ? Map.of(Level.CYA, reading(cya + 2 * week)) : Map.of();
			visits.add(new SeasonVisit(MAY + 7L * week, "T", readings, List.of(new Dose(DoseKind.TABLETS, 4.6, Map.of(Level.CYA, 2.8), 7)),
					false, 0));
		}
		return visits;
	}

	private static Reading reading(double cya) {
		return new Reading(cya, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER);
	}

	private static SeasonVisit visit(long day, Reading cya, List<Dose> doses) {
		return new SeasonVisit(day, "T", (cya != null) ? Map.of(Level.CYA, cya) : Map.of(), doses, false, 0);
	}

	private static long today(List<SeasonVisit> visits) {
		return visits.isEmpty() ? MAY : visits.get(visits.size() - 1).day();
	}

	private static SeasonRecord record(List<SeasonVisit> visits) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, true, false, Map.of(Level.CH, 200.0),
				Map.of(Level.CYA, CYA, Level.CH, CH), null);
		return new SeasonRecord(pool, visits, TechnicianBias.NONE);
	}

	private static SeasonDrift assess(List<SeasonVisit> visits) {
		return assessWith(visits, Map.of());
	}

	private static SeasonDrift assessWith(List<SeasonVisit> visits, Map<Level, LevelDrift.Flag> before) {
		return ENGINE.assess(record(visits), today(visits), today(visits) + 112, before);
	}

}
