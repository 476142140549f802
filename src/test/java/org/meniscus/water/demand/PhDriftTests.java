package org.meniscus.water.demand;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.PoolKind.Feed;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.Temperature;

class PhDriftTests {

	private static final PoolKind YARD = new PoolKind(false, false, 60_000.0, Feed.NONE);

	private static final Water USUAL = Water.of(7.5, 100, 300, 40, 6, 1000, 0, Temperature.ofCelsius(28));

	/** Ends of equilibrium with air at 25 °C, pH 7.5 before, CH 300, no CYA: computed with PHREEQC (US Geological Survey). */
	@Test
	void endsInEquilibriumWithAir() {
		PhDrift quick = new PhDrift(3, 0, 0, 0, 0, 0);
		Water hundred = Water.of(7.5, 100, 300, 0, 0, 1000, 0, Temperature.ofCelsius(25));
		assertThat(quick.expectedPh(hundred, 0, 400).orElseThrow()).isCloseTo(8.3888, within(0.005));
		assertThat(quick.expectedPh(hundred.withTotalAlkalinity(160), 0, 400).orElseThrow()).isCloseTo(8.5748, within(0.005));
	}

	/** The midpoint rule in steps of days against steps of a hundredth of a day. */
	@Test
	void stepsAreSmallEnough() {
		for (double exchange : new double[]{ 0.06, 0.12, 0.4 }) {
			Water water = USUAL;
			for (int n = 0; n < 700; n++) {
				Speciation now = Speciation.of(water);
				double excess = now.carbonDioxide() * (1 - 420e-6 / Math.pow(10, now.log10CarbonDioxidePressure()));
				water = Dosing.loseCarbonDioxide(Dosing.spendChlorine(water, 4.0 / 700), exchange * 0.01 * excess);
			}
			assertThat(new PhDrift(exchange, 0, 0, 0, 0, 0).expectedPh(USUAL, 4, 7).orElseThrow()).isCloseTo(water.ph(), within(0.01));
		}
	}

	/** Alkalinity by stoichiometry: 0.7058 mg/L for each mg/L of chlorine used, CYA 0.607 mg/L for each of trichlor: molar masses. */
	@Test
	void tabletsTakeAlkalinityAndLeaveStabilizer() {
		Water end = PhDrift.integrate(USUAL, 2, 1.5, 7, 0.12);
		assertThat(end.totalAlkalinity()).isCloseTo(100 - 0.7058 * (2 + 10.5), within(0.01));
		assertThat(end.cyanuricAcid()).isCloseTo(40 + 0.607 * 10.5, within(0.01));
		assertThat(end.freeChlorine()).isCloseTo(4, within(1e-9));
		assertThat(end.ph()).isLessThan(new PhDrift(0.12, 0, 0, 0, 0, 0).expectedPh(USUAL, 2, 7).orElseThrow());
	}

	@Test
	void aCellAndASpaRiseFaster() {
		double yard = rise(YARD);
		assertThat(yard).isBetween(0.05, 0.4);
		assertThat(rise(new PoolKind(false, false, null, Feed.CELL))).isGreaterThan(1.3 * yard);
		assertThat(rise(new PoolKind(true, false, null, Feed.NONE))).isGreaterThan(1.5 * yard);
	}

	/** About 0.2 a week from pH 7.5 at TA 100: common practice, no source. */
	@Test
	void aYardPoolRisesByAFifthAWeek() {
		Water summer = Water.of(7.5, 100, 300, 40, 3, 1000, 0, Temperature.ofCelsius(26));
		assertThat(PhDriftEstimator.of(YARD, List.of(), 0).expectedPh(summer, 0, 7).orElseThrow() - 7.5).isCloseTo(0.2, within(0.02));
	}

	/** Shares of the excess carbon dioxide that leave in a day, as docs/demand.md has them: assumptions. */
	@ParameterizedTest
	@CsvSource({ "false, false, NONE, 0.12", "false, false, CELL, 0.24", "true, false, NONE, 0.36", "false, true, NONE, 0.084" })
	void aPoolWithoutVisitsExchangesAsItsKind(boolean spa, boolean indoor, Feed feed, double expected) {
		PhDrift drift = PhDriftEstimator.of(new PoolKind(spa, indoor, null, feed), List.of(), 0);
		assertThat(drift.exchangeRate()).isCloseTo(expected, within(1e-6));
		assertThat(drift.intervals()).isZero();
	}

	/** Two independent errors add in quadrature; 1.2816 s.d. on either side hold 80 % of a normal distribution. */
	@Test
	void theBandJoinsWhatTheRateAndTheTestLeaveOpen() {
		Band test = new PhDrift(0.12, 0, 0, 0.15, 0, 5).after(USUAL, 2, 7).orElseThrow();
		Band rate = new PhDrift(0.12, 0.6, 0, 0, 0, 5).after(USUAL, 2, 7).orElseThrow();
		Band both = new PhDrift(0.12, 0.6, 0, 0.15, 0, 5).after(USUAL, 2, 7).orElseThrow();
		assertThat(test.high() - test.middle()).isCloseTo(1.2816 * 0.15, within(1e-4));
		assertThat(rate.high()).isCloseTo(new PhDrift(0.12 * Math.exp(1.2816 * 0.6), 0, 0, 0, 0, 5).expectedPh(USUAL, 2, 7).orElseThrow(),
				within(1e-3));
		assertThat(both.high() - both.middle()).isCloseTo(Math.hypot(test.high() - test.middle(), rate.high() - rate.middle()),
				within(1e-9));
		assertThat(both.middle() - both.low()).isCloseTo(both.high() - both.middle(), within(1e-9));
	}

	@Test
	void learnsTheRateOfExchange() {
		for (double exchange : new double[]{ 0.05, 0.12, 0.3 }) {
			PhDrift drift = PhDriftEstimator.of(YARD, weeks(exchange, 12, 0.1), 0);
			assertThat(drift.intervals()).isEqualTo(12);
			double truth = PhDrift.integrate(USUAL, 4, 0, 7, exchange).ph();
			double prior = PhDriftEstimator.of(YARD, List.of(), 0).expectedPh(USUAL, 4, 7).orElseThrow();
			double learnt = drift.expectedPh(USUAL, 4, 7).orElseThrow();
			assertThat(learnt).isCloseTo(truth, within(0.06));
			assertThat(Math.abs(learnt - truth)).isLessThanOrEqualTo(Math.abs(prior - truth) + 0.04);
			assertThat(drift.exchangeLogDeviation()).isLessThan(0.6);
		}
	}

	@Test
	void oneOddTestHardlyMovesIt() {
		List<PhInterval> weeks = weeks(0.12, 10, 0.05);
		double before = PhDriftEstimator.of(YARD, weeks, 0).expectedPh(USUAL, 4, 7).orElseThrow();
		weeks.add(new PhInterval(USUAL, 4, 0, 7, 6.8));
		assertThat(PhDriftEstimator.of(YARD, weeks, 0).expectedPh(USUAL, 4, 7).orElseThrow()).isCloseTo(before, within(0.05));
	}

	/** 2000 tests with the noise that is stated lie within the band four times in five. */
	@Test
	void theBandHoldsFourTimesInFive() {
		Random random = new Random(8);
		int held = 0;
		for (int pool = 0; pool < 200; pool++) {
			double exchange = 0.12 * Math.exp(0.5 * random.nextGaussian());
			List<PhInterval> weeks = weeks(exchange, 8, 0.12, random);
			PhDrift drift = PhDriftEstimator.of(YARD, weeks, 0);
			Band band = drift.after(USUAL, 4, 7).orElseThrow();
			for (PhInterval one : weeks(exchange, 10, 0.12, random)) {
				if (one.endPh() >= band.low() && one.endPh() <= band.high()) {
					held++;
				}
			}
		}
		assertThat(held / 2000.0).isBetween(0.75, 0.88);
	}

	/** At pH 8 stabilizer of 200 ppm alone takes some 70 ppm of alkalinity: 10 ppm in all cannot be. */
	@Test
	void readingsThatContradictEachOtherForecastAndTeachNothing() {
		Water contradictory = Water.of(8, 10, 300, 200, 3, 1000, 0, Temperature.ofCelsius(28));
		PhDrift kind = PhDriftEstimator.of(YARD, List.of(), 0);
		assertThat(kind.expectedPh(contradictory, 2, 7)).isEmpty();
		assertThat(kind.after(contradictory, 2, 7)).isEmpty();
		assertThat(PhDriftEstimator.of(YARD, List.of(new PhInterval(contradictory, 2, 0, 7, 8)), 0)).isEqualTo(kind);
		List<PhInterval> weeks = weeks(0.3, 6, 0.05);
		PhDrift learnt = PhDriftEstimator.of(YARD, weeks, 0);
		weeks.add(3, new PhInterval(contradictory, 2, 0, 7, 8));
		assertThat(PhDriftEstimator.of(YARD, weeks, 0)).isEqualTo(learnt);
	}

	/** A cell makes a ppm of chlorine of 58.44 / 70.906 ppm of salt (molar masses of NaCl and Cl2): 5 ppm take 4.12 of it. */
	@Test
	void chlorineOfACellNeedsItsSalt() {
		PhDrift drift = new PhDrift(0.24, 0, 0, 0, 0, 0);
		assertThat(drift.expectedPh(Water.of(7.5, 100, 300, 40, 3, 4, 0, Temperature.ofCelsius(28)), -5, 7)).isEmpty();
		assertThat(drift.expectedPh(Water.of(7.5, 100, 300, 40, 3, 4.2, 0, Temperature.ofCelsius(28)), -5, 7)).isPresent();
	}

	@Test
	void onlyTheNewestTwelveIntervalsCount() {
		List<PhInterval> newest = weeks(0.3, 12, 0.05);
		List<PhInterval> all = new ArrayList<>(weeks(0.05, 20, 0.05));
		all.addAll(newest);
		assertThat(PhDriftEstimator.of(YARD, all, 0)).isEqualTo(PhDriftEstimator.of(YARD, newest, 0));
		assertThat(PhDriftEstimator.of(YARD, all.subList(19, 32), 0)).isEqualTo(PhDriftEstimator.of(YARD, newest, 0));
	}

	/** Pools that rise by a tenth a week more than the carbonate model says: the drift is found, not all of it, for the prior says none. */
	@Test
	void steadyDriftBeyondTheModelIsLearnt() {
		double modelled = PhDrift.integrate(USUAL, 4, 0, 7, 0.12).ph();
		List<PhInterval> up = new ArrayList<>();
		List<PhInterval> down = new ArrayList<>();
		for (int n = 0; n < 12; n++) {
			up.add(new PhInterval(USUAL, 4, 0, 7, modelled + 0.1));
			down.add(new PhInterval(USUAL, 4, 0, 7, modelled - 0.1));
		}
		PhDrift rising = PhDriftEstimator.of(YARD, up, 0);
		PhDrift falling = PhDriftEstimator.of(YARD, down, 0);
		assertThat(rising.unexplainedPerWeek()).isBetween(0.02, 0.1);
		assertThat(falling.unexplainedPerWeek()).isBetween(-0.1, -0.02);
		assertThat(rising.expectedPh(USUAL, 4, 7).orElseThrow()).isCloseTo(modelled + 0.1, within(0.03));
		assertThat(falling.expectedPh(USUAL, 4, 7).orElseThrow()).isCloseTo(modelled - 0.1, within(0.03));
		// all alike: six intervals' worth of the prior's 0.15 among eighteen, and nearly nothing from these
		assertThat(rising.residualDeviation()).isBetween(0.15 * Math.sqrt(6 / 18.0), 0.15 * Math.sqrt(6 / 18.0) + 0.02);
	}

	@ParameterizedTest
	@CsvSource({ "0.12, 0, 0, 0, 0, true", "0, 0, 0, 0, 0, false", "Infinity, 0, 0, 0, 0, false", "0.12, -0.1, 0, 0, 0, false",
			"0.12, 0, 14, 0, 0, false", "0.12, 0, -14, 0, 0, false", "0.12, 0, -13.9, 0, 0, true", "0.12, 0, 0, -0.1, 0, false",
			"0.12, 0, 0, 0, -0.1, false", "NaN, 0, 0, 0, 0, false" })
	void driftsHoldOnlyPossibleFigures(double exchange, double logDeviation, double unexplained, double residual, double tablets,
			boolean possible) {
		if (possible) {
			assertThat(new PhDrift(exchange, logDeviation, unexplained, residual, tablets, 0).exchangeRate()).isEqualTo(exchange);
		}
		else {
			assertThatIllegalArgumentException()
				.isThrownBy(() -> new PhDrift(exchange, logDeviation, unexplained, residual, tablets, 0));
		}
	}

	private static double rise(PoolKind kind) {
		return PhDriftEstimator.of(kind, List.of(), 0).expectedPh(USUAL, 4, 7).orElseThrow() - USUAL.ph();
	}

	private static List<PhInterval> weeks(double exchange, int count, double noise) {
		return weeks(exchange, count, noise, new Random(4));
	}

	private static List<PhInterval> weeks(double exchange, int count, double noise, Random random) {
		List<PhInterval> weeks = new ArrayList<>();
		double found = PhDrift.integrate(USUAL, 4, 0, 7, exchange).ph();
		for (int n = 0; n < count; n++) {
			weeks.add(new PhInterval(USUAL, 4, 0, 7, found + noise * random.nextGaussian()));
		}
		return weeks;
	}

}
