package org.meniscus.water.chemistry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.support.Draws;
import org.meniscus.water.units.Temperature;

/**
 * The laws that the solver has to satisfy, written down again from sections 1 and 2 of the reference's README: mass action between
 * activities, conservation of what the water holds, and the definition of alkalinity.
 */
class EquilibriumTests {

	private static final Offset<Double> LOG = within(1e-9);

	@ParameterizedTest
	@EnumSource(CyanurateConstants.class)
	void everySpeciesObeysMassActionAndNothingIsLost(CyanurateConstants set) {
		Random random = new Random(1974);
		for (int n = 0; n < Draws.COUNT; n++) {
			Water water = draw(random);
			Equilibrium at = Equilibrium.of(water, set);
			double alkalinity = at.otherAlkalinity(water.ph()) + 0.006 * random.nextDouble();
			assertThat(at.carbonFromAlkalinity(water.ph(), alkalinity)).isNotNegative();
			check(water, at, alkalinity, EquilibriumConstants.at(water.temperature(), set), set == CyanurateConstants.OBRIEN);
		}
	}

	private static Water draw(Random random) {
		return new Water(3 + 10 * random.nextDouble(), 300 * random.nextDouble(), 50 + 1000 * random.nextDouble(),
				1 + 200 * random.nextDouble(), 0.1 + 30 * random.nextDouble(), 5000 * random.nextDouble(), 1 + 50 * random.nextDouble(),
				500 * random.nextDouble(), Temperature.ofCelsius(40 * random.nextDouble()));
	}

	private static void check(Water water, Equilibrium at, double alkalinity, EquilibriumConstants constants, boolean tenSpecies) {
		double root = Math.sqrt(water.ionicStrength());
		double one = -constants.daviesSlope() * (root / (1 + root) - 0.3 * water.ionicStrength());
		double two = 4 * one;
		double ph = water.ph();
		// log10 of the activities of the products less those of what they come from
		assertThat(log(at.hydroxide) + one - ph).isCloseTo(-constants.pKw(), LOG);
		assertThat(log(at.h2Cy) + one - ph - log(at.h3Cy)).isCloseTo(-constants.pK6(), LOG);
		assertThat(log(at.h2Cy) + log(at.hocl) - log(at.hClCy)).isCloseTo(-constants.pK9a(), LOG);
		assertThat(log(at.hClCy) + log(at.hocl) - log(at.cl2Cy)).isCloseTo(-constants.pK7a(), LOG);
		assertThat(log(at.ocl) + one - ph - log(at.hocl)).isCloseTo(-constants.pKHypochlorousAcid(), LOG);
		assertThat(log(at.boronAnion) + one - ph - log(at.totalBorate - at.boronAnion)).isCloseTo(-constants.pKBoricAcid(), within(1e-6));
		assertThat(log(at.bicarbonate) + one - ph - log(at.carbonDioxide)).isCloseTo(-constants.pK1(), LOG);
		assertThat(log(at.carbonate) + two - ph - log(at.bicarbonate) - one).isCloseTo(-constants.pK2(), LOG);
		assertThat(log(at.bicarbonatePair) + one - log(at.freeCalcium) - two - log(at.bicarbonate) - one)
			.isCloseTo(constants.logCalciumBicarbonate(), LOG);
		assertThat(log(at.carbonatePair) - log(at.freeCalcium) - two - log(at.carbonate) - two)
			.isCloseTo(constants.logCalciumCarbonate(), LOG);
		assertThat(at.saturationIndex()).isCloseTo(log(at.freeCalcium) + log(at.carbonate) + 2 * two + constants.pKCalcite(), LOG);
		assertThat(at.logCarbonDioxidePressure()).isCloseTo(log(at.carbonDioxide) + constants.pKH(), LOG);
		if (tenSpecies) {
			double three = 9 * one;
			assertThat(log(at.clCy) + two - ph - log(at.hClCy) - one).isCloseTo(-10.12, LOG);
			assertThat(log(at.hCy) + two - ph - log(at.h2Cy) - one).isCloseTo(-11.40, LOG);
			assertThat(log(at.cy) + three - ph - log(at.hCy) - two).isCloseTo(-13.5, LOG);
			assertThat(log(at.hClCy) + one - ph - log(at.h2ClCy)).isCloseTo(-5.33, LOG);
			assertThat(log(at.cl2Cy) + one - ph - log(at.hCl2Cy)).isCloseTo(-3.75, LOG);
			assertThat(log(at.hCl2Cy) + log(at.hocl) - log(at.cl3Cy)).isCloseTo(-1.80, LOG);
		}
		else {
			assertThat(at.clCy + at.hCy + at.cy + at.h2ClCy + at.hCl2Cy + at.cl3Cy).isZero();
		}
		double calciumSulfate = Math.pow(10, constants.logCalciumSulfate() + 2 * two) * at.freeCalcium;
		same(at.freeCalcium + at.bicarbonatePair + at.carbonatePair + at.totalSulfate * calciumSulfate / (1 + calciumSulfate),
				at.totalCalcium);
		same(at.hocl + at.ocl + at.hClCy + at.clCy + at.h2ClCy + 2 * (at.cl2Cy + at.hCl2Cy) + 3 * at.cl3Cy, at.totalChlorine);
		same(at.h3Cy + at.h2Cy + at.hCy + at.cy + at.hClCy + at.clCy + at.h2ClCy + at.cl2Cy + at.hCl2Cy + at.cl3Cy, at.totalCyanurate);
		same(at.carbonDioxide + at.bicarbonate + at.carbonate + at.bicarbonatePair + at.carbonatePair, at.totalCarbon);
		double sum = at.bicarbonate + at.bicarbonatePair + 2 * (at.carbonate + at.carbonatePair) + at.hydroxide
				- Math.pow(10, -ph - one) + at.boronAnion + at.ocl + at.h2Cy + at.hClCy + at.cl2Cy + 2 * (at.hCy + at.clCy) + 3 * at.cy;
		assertThat(sum).isCloseTo(alkalinity, within(1e-9 * (Math.abs(alkalinity) + at.hydroxide + Math.pow(10, -ph))));
	}

	/** Wherever the search starts, it ends at the pH that the carbon was worked out at. */
	@Test
	void thePhOfAClosedWaterDoesNotDependOnTheGuess() {
		Random random = new Random(1966);
		for (int n = 0; n < Draws.COUNT; n++) {
			Water water = draw(random);
			Equilibrium at = Equilibrium.of(water, CyanurateConstants.WAHMAN);
			double alkalinity = at.otherAlkalinity(water.ph()) + 0.006 * random.nextDouble();
			at.carbonFromAlkalinity(water.ph(), alkalinity);
			for (double guess : new double[]{ 0.5, 4, water.ph(), 10, 13.5 }) {
				assertThat(at.closedPh(alkalinity, guess)).as("%s from %s", water, guess).isCloseTo(water.ph(), within(1e-7));
			}
		}
	}

	/** In equilibrium with a gas, the CO2 in the water is what Henry's law says, whatever the guess. */
	@Test
	void anOpenWaterHoldsWhatHenrysLawSays() {
		Random random = new Random(1982);
		for (int n = 0; n < Draws.COUNT / 10; n++) {
			Water water = draw(random);
			double pressure = Math.pow(10, -5 + 3 * random.nextDouble());
			for (double guess : new double[]{ 4, 7.5, 11 }) {
				Equilibrium at = Equilibrium.of(water, CyanurateConstants.WAHMAN);
				at.openPh(0.002, guess, pressure);
				assertThat(at.logCarbonDioxidePressure()).as("%s from %s", water, guess).isCloseTo(log(pressure), within(1e-9));
			}
		}
	}

	@Test
	void noWaterOutsideThePhScaleIsAnswered() {
		Water water = Water.of(7.5, 100, 300, 50, 3, 1000, 0, Temperature.ofCelsius(25));
		for (double alkalinity : new double[]{ -5, 5 }) {
			Equilibrium at = Equilibrium.of(water, CyanurateConstants.WAHMAN);
			at.totalCarbon = 0.002;
			assertThatIllegalArgumentException().isThrownBy(() -> at.closedPh(alkalinity, 7));
		}
	}

	/** By charge: Na = Cl + TA - 2 Ca + 2 SO4 (section 1 of the README), here 10 + 1 - 2 + 2 mmol. */
	@Test
	void sodiumMakesUpTheCharge() {
		Water water = new Water(7.5, 50.043, 100.086, 0, 0, 584.4, 0, 96.06, Temperature.ofCelsius(25));
		assertThat(water.sodium()).isCloseTo(11, within(0.01));
		assertThat(water.ionicStrength()).as("10 + 1 + 1 + 3 mmol: section 2.1").isCloseTo(0.015, within(1e-5));
	}

	@ParameterizedTest
	@CsvSource({ "-0.1, 50, 3, 0", "14.1, 50, 3, 0", "7, -1, 3, 0", "7, 50, -1, 0", "7, 50, 3, -0.1", "7, 99998, 3, 0", "NaN, 50, 3, 0" })
	void noChlorineIsSharedOutInWhatIsNoWater(double ph, double cya, double fc, double ionicStrength) {
		assertThatIllegalArgumentException().isThrownBy(() -> Cyanurates.of(ph, cya, fc, at25(), ionicStrength));
	}

	@ParameterizedTest
	@CsvSource({ "0, 50, 3, 0", "14, 50, 3, 0", "7, 0, 3, 0.1", "7, 50, 0, 0.1", "7, 99996, 3, 1" })
	void endsOfWhatAWaterCanBeAreAnswered(double ph, double cya, double fc, double ionicStrength) {
		Cyanurates at = Cyanurates.of(ph, cya, fc, at25(), ionicStrength);
		assertThat(at.hocl() + at.ocl() + at.hClCy() + at.cl2Cy()).isCloseTo(fc, within(1e-9));
	}

	private static EquilibriumConstants at25() {
		return EquilibriumConstants.at(Temperature.ofCelsius(25), CyanurateConstants.WAHMAN);
	}

	private static double log(double value) {
		return Math.log10(value);
	}

	private static void same(double sum, double whole) {
		assertThat(sum).isCloseTo(whole, within(1e-9 * whole));
	}

}
