package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonVisit.Dose;
import org.meniscus.water.drift.SeasonVisit.Reading;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;

/** A pool tested each fortnight, in which something changes in the tenth week and nobody writes it down. */
class ChangePointsTests {

	private static final long MAY = 20_575;

	private static final int DRAIN_WEEK = 9;

	private static final DriftEngine ENGINE = new DriftEngine(ClimateNormals.HOT_DRY, DriftSettings.SINGLE_POOL);

	/** @param drained share of the water @param recorded whether the visit has it */
	private static SeasonDrift assess(double drained, boolean recorded, int weeks) {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= weeks; week++) {
			boolean after = week > DRAIN_WEEK;
			double cya = after ? 90 * (1 - drained) + 5 * Math.round((week - DRAIN_WEEK) / 4.0) : 75 + 5 * Math.round(week / 3.0);
			double ch = after ? 480 - drained * 280 : 450 + 4 * week;
			Map<Level, Reading> readings = (week % 2 == 0) ? readings(cya, ch) : Map.of();
			visits.add(new SeasonVisit(MAY + 7L * week, "T", readings, List.of(new Dose(DoseKind.TABLETS, 3, Map.of(Level.CYA, 1.8), 7)),
					false, (recorded && week == DRAIN_WEEK) ? drained : 0));
		}
		return assess(visits);
	}

	private static Map<Level, Reading> readings(@Nullable Double cya, @Nullable Double ch) {
		Map<Level, Reading> readings = new HashMap<>();
		if (cya != null) {
			readings.put(Level.CYA, new Reading(cya, ReadingQualifier.EXACT, TestPrecision.TURBIDITY_TUBE));
		}
		if (ch != null) {
			readings.put(Level.CH, new Reading(ch, ReadingQualifier.EXACT, TestPrecision.titration(10)));
		}
		return readings;
	}

	private static SeasonDrift assess(List<SeasonVisit> visits) {
		SeasonPool pool = new SeasonPool(60.0, 42.0, true, false, true, false, false, Map.of(Level.CH, 200.0),
				Map.of(Level.CYA, new Range(30, 30, 80, 80, "made up"), Level.CH, new Range(150, 150, 800, 800, "made up")), null);
		long today = visits.get(visits.size() - 1).day();
		return ENGINE.explain(new SeasonRecord(pool, visits, TechnicianBias.NONE), today, today + 60, Map.of());
	}

	private static @Nullable DriftNote note(SeasonDrift drift) {
		return drift.notes().stream().filter(note -> note.code() == DriftNote.Code.WATER_REPLACED).findFirst().orElse(null);
	}

	private static double today(SeasonDrift drift, Level level) {
		return Objects.requireNonNull(drift.level(level).orElseThrow().today()).middle();
	}

	/** The second test after it is in week twelve. 90 and 480 less the share of what is above the fill water's 0 and 200. */
	@ParameterizedTest
	@ValueSource(doubles = { 0.35, 0.45, 0.6 })
	void unrecordedDrainIsFoundByTheSecondTestAndAllLevelsFollow(double share) {
		SeasonDrift drift = assess(share, false, 12);
		DriftNote note = note(drift);
		assertThat(note).isNotNull();
		assertThat(note.figures().get(0)).isEqualTo(MAY + 70.0);
		assertThat(note.figures().get(1)).isCloseTo(share, within(0.08));
		assertThat(today(drift, Level.CYA)).isCloseTo(90 * (1 - share) + 5, within(10.0));
		assertThat(today(drift, Level.CH)).isCloseTo(480 - share * 280, within(30.0));
		LevelDrift.Causes causes = Objects.requireNonNull(drift.level(Level.CYA).orElseThrow().causes());
		assertThat(causes.part(DriftCause.UNRECORDED)).as("a cause not on the records").isCloseTo(-90 * share, within(20.0));
	}

	@Test
	void neitherRecordedDrainsNorSeasonsWithoutOneAreNoted() {
		assertThat(note(assess(0.4, true, 14))).isNull();
		assertThat(note(assess(0, false, 14))).isNull();
	}

	/** With 1,000 particles a quarter take the hypothesis up; a slip in one level is not one of all. */
	@Test
	void slipOfOneTestIsNoDrain() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 12; week += 2) {
			visits.add(new SeasonVisit(MAY + 7L * week, "T", readings((week == 10) ? 40.0 : 80.0, 460.0), List.of(), false, 0));
		}
		SeasonDrift drift = assess(visits);
		assertThat(note(drift)).isNull();
		assertThat(today(drift, Level.CYA)).isBetween(68.0, 88.0);
	}

	/** 12 mm a day of about 1,430 mm are 0.84 % of the water: each level falls by that share of what it is above the fill water. */
	@Test
	void leakIsNotedWithItsChanceAndItsSize() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 22; week += 2) {
			double left = Math.exp(-0.0084 * 7 * Math.max(0, week - 6));
			visits.add(new SeasonVisit(MAY + 7L * week, "T", readings(10.0 * Math.round(9 * left), 10.0 * Math.round(20 + 28 * left)),
					List.of(),
					false, 0));
			if (week == 6) {
				assertThat(leak(assess(visits))).as("before it began").isNull();
			}
		}
		DriftNote note = leak(assess(visits));
		assertThat(note).isNotNull();
		assertThat(note.figures().get(0)).isBetween(ChangePoints.TOLD_FROM, 1.0);
		assertThat(note.figures().get(1)).isBetween(5.0, 20.0);
	}

	private static @Nullable DriftNote leak(SeasonDrift drift) {
		return drift.notes().stream().filter(note -> note.code() == DriftNote.Code.LEAK_SUSPECTED).findFirst().orElse(null);
	}

	/** A technician's tests of one level are off by a factor from week ten on, those of the other are not: the level itself stays. */
	@ParameterizedTest
	@ValueSource(doubles = { 0.55, 1.8 })
	void badReagentOfOneLevelIsNotedAndTheLevelStays(double factor) {
		for (Level level : List.of(Level.CYA, Level.CH)) {
			List<SeasonVisit> visits = new ArrayList<>();
			for (int week = 0; week <= 16; week += 2) {
				double off = (week >= 10) ? factor : 1;
				visits.add(new SeasonVisit(MAY + 7L * week, "T",
						readings(5.0 * Math.round((18 - 0.2 * week) * ((level == Level.CYA) ? off : 1)),
								10.0 * Math.round((42 + 0.5 * week) * ((level == Level.CH) ? off : 1))),
						List.of(), false, 0));
			}
			SeasonDrift before = assess(visits.subList(0, 5));
			SeasonDrift drift = assess(visits);
			assertThat(reagent(before, level)).isNull();
			DriftNote note = reagent(drift, level);
			assertThat(note).as("%s times %s", level, factor).isNotNull();
			assertThat(note.figures().get(0)).isEqualTo(MAY + 70.0);
			assertThat(note.figures().get(1)).isCloseTo(factor, within(0.15 * factor));
			double truth = (level == Level.CYA) ? 74 : 500;
			assertThat(today(drift, level)).isCloseTo(truth, within(0.2 * truth));
			assertThat(reagent(drift, (level == Level.CYA) ? Level.CH : Level.CYA)).isNull();
			assertThat(note(drift)).isNull();
			assertThat(drift.level(level).orElseThrow().notes())
				.noneMatch(other -> other.code() == DriftNote.Code.READING_DOUBTED && other.figures().get(0) >= MAY + 70);
		}
	}

	/** Another technician's kit reads right: the shift is of one kit. */
	@Test
	void badReagentOfOneTechnicianIsNotTakenForTheLevel() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 18; week++) {
			boolean bad = week >= 10 && week % 2 == 0;
			visits.add(new SeasonVisit(MAY + 7L * week, (week % 2 == 0) ? "T" : "U", readings(70.0, bad ? 220.0 : 420.0 + 5 * week),
					List.of(), false, 0));
		}
		SeasonDrift drift = assess(visits);
		assertThat(reagent(drift, Level.CH)).isNotNull();
		assertThat(today(drift, Level.CH)).isCloseTo(510, within(40.0));
	}

	private static @Nullable DriftNote reagent(SeasonDrift drift, Level level) {
		return drift.level(level).orElseThrow().notes().stream().filter(note -> note.code() == DriftNote.Code.REAGENT_DOUBTED).findFirst()
			.orElse(null);
	}

	/** Both levels are raised on record in weeks two, eight and twelve: first as the recorded volume has it, then 2.5 times as far. */
	@Test
	void dosesThatMoveAllLevelsFurtherThanBeforeAreAChangedVolume() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 16; week += 2) {
			double dosed = (week > 12) ? 6 : (week > 8) ? 3.5 : (week > 2) ? 1 : 0;
			List<Dose> doses = (week == 2 || week == 8 || week == 12)
					? List.of(new Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, 12.0), 0),
							new Dose(DoseKind.CALCIUM_CHLORIDE, 0, Map.of(Level.CH, 80.0), 0))
					: List.of();
			visits.add(new SeasonVisit(MAY + 7L * week, "T", readings(40 + dosed * 12 - 0.5 * week, 250 + dosed * 80 + 4 * week), doses,
					false, 0));
			if (week == 8) {
				assertThat(volume(assess(visits))).as("before it").isNull();
			}
		}
		DriftNote note = volume(assess(visits));
		assertThat(note).isNotNull();
		assertThat(note.figures().get(0)).isLessThanOrEqualTo(MAY + 56.0);
		assertThat(note.figures().get(1)).isBetween(1.8, 3.2);
		assertThat(note.figures().get(2)).isBetween(ChangePoints.TOLD_FROM, 1.0);
	}

	private static @Nullable DriftNote volume(SeasonDrift drift) {
		return drift.notes().stream().filter(note -> note.code() == DriftNote.Code.VOLUME_CHANGED).findFirst().orElse(null);
	}

	/** Fill water of 200 ppm takes CH 480 to 368 when 40 % is replaced: CH is not tested after it and follows all the same. */
	@Test
	void levelsThatWereNotTestedFollowToo() {
		List<SeasonVisit> visits = new ArrayList<>();
		for (int week = 0; week <= 16; week += 2) {
			boolean after = week > 8;
			Map<Level, Reading> readings = new HashMap<>(readings(null, after ? null : Double.valueOf(480)));
			readings.put(Level.CYA, new Reading(after ? 54 : 90, ReadingQualifier.EXACT, TestPrecision.PHOTOMETER));
			visits.add(new SeasonVisit(MAY + 7L * week, "T", readings, List.of(new Dose(DoseKind.TABLETS, 3, Map.of(Level.CYA, 1.8), 7)),
					false, 0));
		}
		SeasonDrift drift = assess(visits);
		assertThat(note(drift)).isNotNull();
		assertThat(today(drift, Level.CH)).isBetween(340.0, 420.0);
	}

}
