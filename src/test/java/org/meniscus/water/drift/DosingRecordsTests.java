package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.SeasonVisit.Dose;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.XorShiftRandom;

/** What records say was put in, and what routine they show, by arithmetic; in a year of 29 °C, in which a day has a demand of one. */
class DosingRecordsTests {

	private static final long START = LocalDate.of(2026, 5, 1).toEpochDay();

	private static final int PARTICLES = 20_000;

	private static final Weather EVEN = new Weather(
			new ClimateNormals(Collections.nCopies(12, new ClimateNormals.Month(5, 0, 0, 29))));

	private final List<DriftNote> notes = new ArrayList<>();

	private final DosingRecords records = new DosingRecords(START, EVEN, PARTICLES, notes);

	private final XorShiftRandom random = new XorShiftRandom(8);

	private final double[] weight = equal();

	private final double[] gaps = new double[PARTICLES];

	private static double[] equal() {
		double[] weight = new double[PARTICLES];
		Arrays.fill(weight, 1.0 / PARTICLES);
		return weight;
	}

	private static SeasonVisit visit(int day, Dose... doses) {
		return new SeasonVisit(START + day, "T", Map.of(), List.of(doses), false, 0);
	}

	private static Dose tablets(double chlorine, double cya, int days) {
		return new Dose(DoseKind.TABLETS, chlorine, Map.of(Level.CYA, cya), days);
	}

	private void routine(int day, Dose... doses) {
		records.addRoutine(visit(day, doses), weight, gaps, random);
	}

	private RoutineDosing tabletRoutine() {
		return records.routines().get(DoseKind.TABLETS);
	}

	@Test
	void tabletsBringTheirStabilizerEvenlyOverTheirDays() {
		routine(3, tablets(4.6, 2.8, 7));
		assertThat(records.total(SlowLevels.CYA, START, 14)).containsExactly(
				new double[]{ 0, 0, 0, 0.4, 0.4, 0.4, 0.4, 0.4, 0.4, 0.4, 0, 0, 0, 0 }, within(1e-12));
		assertThat(records.total(SlowLevels.CYA, START + 8, 3)).containsExactly(new double[]{ 0.4, 0.4, 0 }, within(1e-12));
		assertThat(records.total(SlowLevels.CH, START, 14)).containsOnly(0);
		assertThat(records.dose(DoseKind.TABLETS, SlowLevels.CYA, START + 9)).isCloseTo(0.4, within(1e-12));
		assertThat(records.dose(DoseKind.TABLETS, SlowLevels.CYA, START + 10)).isZero();
		assertThat(records.dose(DoseKind.DICHLOR, SlowLevels.CYA, START + 4)).isZero();
	}

	/** A year and a half after the start as on the first day, and what was there before stays. */
	@Test
	void recordsReachBeyondAYear() {
		routine(0, tablets(4.6, 2.8, 7));
		routine(373, tablets(4.6, 2.8, 7));
		routine(376, tablets(4.6, 2.1, 7));
		routine(600, tablets(4.6, 7, 7));
		assertThat(records.dose(DoseKind.TABLETS, SlowLevels.CYA, START)).isCloseTo(0.4, within(1e-12));
		assertThat(records.dose(DoseKind.TABLETS, SlowLevels.CYA, START + 379)).isCloseTo(0.7, within(1e-12));
		assertThat(records.dose(DoseKind.TABLETS, SlowLevels.CYA, START + 606)).isCloseTo(1, within(1e-12));
		assertThat(records.dose(DoseKind.TABLETS, SlowLevels.CYA, START + 5000)).isZero();
		assertThat(records.total(SlowLevels.CYA, START + 605, 1000)[1]).isCloseTo(1, within(1e-12));
	}

	@Test
	void correctionsActOnTheirDayAndAreNoRoutine() {
		records.addCorrections(visit(2, new Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, 20.0), 0), tablets(4.6, 2.8, 7)));
		assertThat(records.total(SlowLevels.CYA, START, 5)).containsExactly(0, 0, 20, 0, 0);
		routine(2, new Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, 20.0), 0));
		assertThat(records.total(SlowLevels.CYA, START, 5)).as("once only").containsExactly(0, 0, 20, 0, 0);
		assertThat(records.routines()).isEmpty();
	}

	/** 150 ppm of CYA at once is the most that a pool may need; acid and drains may lower levels. */
	@Test
	void dosesThatNoPoolNeedsAreDoubtedAndLeftOut() {
		records.addCorrections(visit(1, new Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, 150.0), 0)));
		assertThat(notes).isEmpty();
		records.addCorrections(visit(2, new Dose(DoseKind.STABILIZER, 0, Map.of(Level.CYA, 151.0), 0)));
		records.addCorrections(visit(3, new Dose(DoseKind.OTHER, 0, Map.of(Level.CH, -501.0), 0)));
		assertThat(notes).containsExactly(DriftNote.of(DriftNote.Code.DOSE_DOUBTED, Level.CYA, START + 2, 151),
				DriftNote.of(DriftNote.Code.DOSE_DOUBTED, Level.CH, START + 3, -501));
		assertThat(records.total(SlowLevels.CYA, START, 4)).containsExactly(0, 150, 0, 0);
		assertThat(records.total(SlowLevels.CH, START, 4)).containsOnly(0);
	}

	@Test
	void dosesOfUnknownStrengthAreCountedAndPutInNothing() {
		routine(0, new Dose(DoseKind.TABLETS, 0, null, 7));
		records.addCorrections(visit(0, new Dose(DoseKind.OTHER, 0, null, 0)));
		assertThat(records.unknownStrengths()).isEqualTo(2);
		assertThat(records.total(SlowLevels.CYA, START, 7)).containsOnly(0);
		assertThat(tabletRoutine().rate(SlowLevels.CYA)).isZero();
	}

	/** 2.8 ppm in 7 days, and what acts on the day is meant for a week. */
	@Test
	void routineIsWhatWasPutInForTheDemandOfItsDays() {
		routine(0, tablets(4.9, 2.8, 7), new Dose(DoseKind.LIQUID_CHLORINE, 3.5, Map.of(Level.SALT, 5.6), 0));
		assertThat(tabletRoutine().rate(SlowLevels.CYA)).isCloseTo(0.4, within(1e-9));
		assertThat(tabletRoutine().chlorineRate()).isCloseTo(0.7, within(1e-9));
		RoutineDosing liquid = records.routines().get(DoseKind.LIQUID_CHLORINE);
		assertThat(liquid.chlorineRate()).isCloseTo(0.5, within(1e-9));
		assertThat(liquid.rate(SlowLevels.ALL.indexOf(Level.SALT))).isCloseTo(0.8, within(1e-9));
		assertThat(liquid.inUse).containsOnly(true);
	}

	/** A record of 60 days ago counts 1/e: (2.8 / e + 7) ppm for (1 / e + 1) weeks. */
	@Test
	void olderRecordsCountLess() {
		routine(0, tablets(3.5, 2.8, 7));
		routine(60, tablets(7, 7, 7));
		double old = Math.exp(-1);
		assertThat(tabletRoutine().rate(SlowLevels.CYA)).isCloseTo((2.8 * old + 7) / (7 * old + 7), within(1e-9));
		assertThat(tabletRoutine().chlorineRate()).isCloseTo((3.5 * old + 7) / (7 * old + 7), within(1e-9));
	}

	/** Two records on one day weigh the same. */
	@Test
	void recordsOfOneDayCountTogether() {
		routine(0, tablets(3.5, 2.8, 7));
		routine(0, tablets(7, 7, 7));
		assertThat(tabletRoutine().rate(SlowLevels.CYA)).isCloseTo(0.7, within(1e-9));
	}

	@Test
	void recordsCoverTheirDays() {
		routine(0, tablets(4.6, 2.8, 7));
		assertThat(tabletRoutine().daysCovered(START, 100)).isEqualTo(7);
		assertThat(tabletRoutine().daysCovered(START + 5, 100)).isEqualTo(2);
		assertThat(tabletRoutine().daysCovered(START + 5, 1)).isEqualTo(1);
		assertThat(tabletRoutine().daysCovered(START + 9, 100)).isZero();
	}

	/** Recorded at two visits of four, one without says nothing; at seven of ten it is a gap or the end. */
	@Test
	void onlyARoutineOfMostVisitsHasGaps() {
		Arrays.fill(gaps, 0.06);
		for (int week = 0; week < 4; week++) {
			routine(7 * week, (week % 3 == 0) ? new Dose[]{ tablets(4.6, 2.8, 7) } : new Dose[0]);
		}
		routine(28);
		assertThat(tabletRoutine().inUse).containsOnly(true);
		assertThat(tabletRoutine().unrecorded).containsOnly(false);
		assertThat(weight).isEqualTo(equal());
	}

	/**
	 * docs/season.md: a product is given up at a visit with 0.6 %, or its dose is not written down with the share of the particle. By Bayes a
	 * particle with gaps of 25 % explains a silent visit (0.006 + 0.994 × 0.25) / (0.006 + 0.994 × 0.06) times as well as one with 6 %,
	 * and 0.006 / (0.006 + 0.994 × 0.06) of those with 6 % have given up.
	 */
	@Test
	void silentVisitIsAGapOrTheEndAsBayesSays() {
		Arrays.fill(gaps, 0, PARTICLES / 2, 0.06);
		Arrays.fill(gaps, PARTICLES / 2, PARTICLES, 0.25);
		routine(0, tablets(4.6, 2.8, 7));
		routine(7, tablets(4.6, 2.8, 7));
		System.arraycopy(equal(), 0, weight, 0, PARTICLES);
		routine(14);
		double few = 0.006 + 0.994 * 0.06;
		double many = 0.006 + 0.994 * 0.25;
		assertThat(weight[PARTICLES - 1] / weight[0]).isCloseTo(many / few, within(1e-9));
		assertThat(Arrays.stream(weight).sum()).isCloseTo(1, within(1e-9));
		assertThat(givenUp(0)).isCloseTo(0.006 / few, within(4 * Math.sqrt(0.09 / (PARTICLES / 2))));
		assertThat(givenUp(PARTICLES / 2)).isCloseTo(0.006 / many, within(4 * Math.sqrt(0.024 / (PARTICLES / 2))));
		double rate = tabletRoutine().rate(SlowLevels.CYA);
		for (int i = 0; i < PARTICLES; i++) {
			assertThat(records.unrecordedRate(SlowLevels.CYA, i)).isEqualTo(tabletRoutine().inUse[i] ? rate : 0);
		}
	}

	/** Where it is in use a record is likely (0.994 × 0.94); where it was given up it is back with 2 %. Then nothing is missing any more. */
	@Test
	void nextRecordShowsThatItIsInUse() {
		Arrays.fill(gaps, 0.06);
		for (int week = 0; week < 4; week++) {
			routine(7 * week, tablets(4.6, 2.8, 7));
		}
		routine(28);
		boolean[] before = tabletRoutine().inUse.clone();
		System.arraycopy(equal(), 0, weight, 0, PARTICLES);
		routine(35, tablets(4.6, 2.8, 7));
		int up = 0;
		while (before[up]) {
			up++;
		}
		int use = 0;
		while (!before[use]) {
			use++;
		}
		assertThat(weight[use] / weight[up]).isCloseTo(0.994 * 0.94 / 0.02, within(1e-6));
		assertThat(tabletRoutine().inUse).containsOnly(true);
		assertThat(tabletRoutine().unrecorded).containsOnly(false);
		assertThat(records.unrecordedRate(SlowLevels.CYA, 0)).isZero();
	}

	@Test
	void routinesGoWithTheirParticles() {
		Arrays.fill(gaps, 0.06);
		routine(0, tablets(4.6, 2.8, 7));
		routine(7, tablets(4.6, 2.8, 7));
		routine(14);
		boolean[] inUse = tabletRoutine().inUse.clone();
		int[] from = new int[PARTICLES];
		for (int i = 0; i < PARTICLES; i++) {
			from[i] = PARTICLES - 1 - i;
		}
		records.gather(from);
		for (int i = 0; i < PARTICLES; i++) {
			assertThat(tabletRoutine().inUse[i]).isEqualTo(inUse[PARTICLES - 1 - i]);
			assertThat(tabletRoutine().unrecorded[i]).isEqualTo(inUse[PARTICLES - 1 - i]);
		}
	}

	private double givenUp(int from) {
		int count = 0;
		for (int i = from; i < from + PARTICLES / 2; i++) {
			count += tabletRoutine().inUse[i] ? 0 : 1;
		}
		return (double) count / (PARTICLES / 2);
	}

}
