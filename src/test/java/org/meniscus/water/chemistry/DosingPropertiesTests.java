package org.meniscus.water.chemistry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.meniscus.support.Draws;
import org.meniscus.water.units.Temperature;

/** What must hold for any water, over waters drawn with a fixed seed. */
class DosingPropertiesTests {

	/** Ordinary pools and odd ones: no stabilizer, sea water, ice-cold, hot, far too much chlorine. */
	static Stream<Water> waters() {
		Random random = new Random(20261125);
		return Stream.generate(() -> draw(random)).filter(water -> !Speciation.of(water).contradictory()).limit(Draws.COUNT);
	}

	private static Water draw(Random random) {
		return Water.of(6.5 + 2.5 * random.nextDouble(), 20 + 280 * random.nextDouble(), 1200 * random.nextDouble(),
				random.nextInt(4) == 0 ? 0 : 250 * random.nextDouble(),
				random.nextInt(5) == 0 ? 40 * random.nextDouble() : 8 * random.nextDouble(),
				random.nextInt(10) == 0 ? 35_000 * random.nextDouble() : 300 + 4000 * random.nextDouble(),
				random.nextInt(3) == 0 ? 60 * random.nextDouble() : 0, Temperature.ofCelsius(2 + 43 * random.nextDouble()));
	}

	@Test
	void everyWaterHasFiniteSpeciesThatAddUp() {
		waters().forEach(water -> {
			Speciation at = Speciation.of(water);
			Cyanurates with = at.cyanurates();
			double bound = with.hClCy() + with.cl2Cy() + with.clCy() + with.h2ClCy() + with.hCl2Cy() + with.cl3Cy();
			assertThat(at.hocl() + at.ocl() + bound).as(water.toString()).isCloseTo(water.freeChlorine(), within(1e-6));
			assertThat(at.carbonateAlkalinity() + at.cyanurateAlkalinity() + at.borateAlkalinity())
				.isLessThanOrEqualTo(water.totalAlkalinity() + 1e-9);
			assertThat(at.totalInorganicCarbon()).isFinite().isNotNegative();
			assertThat(at.ionicStrength()).isFinite().isPositive();
		});
	}

	/** One NaCl for each Cl2, 0.824 mg by molar masses: 10 mg/L of chlorine ask for more than 5 mg/L of salt hold. */
	@Test
	void aSaltCellTakesNoMoreSaltThanThereIs() {
		Water fresh = Water.of(7.5, 100, 250, 30, 1, 5, 0, Temperature.ofCelsius(26));
		assertThat(Dosing.addChlorine(fresh, ChlorineSource.SALT_CELL, 10).salt()).isZero();
		Water salty = Water.of(7.5, 100, 250, 30, 1, 3000, 0, Temperature.ofCelsius(26));
		assertThat(Dosing.addChlorine(salty, ChlorineSource.SALT_CELL, 10).salt()).isCloseTo(3000 - 10 * 58.443 / 70.906, within(0.01));
	}

	@Test
	void stabilizerNeverRaisesHypochlorousAcid() {
		waters().filter(water -> water.freeChlorine() > 0.1)
			.forEach(water -> assertThat(Speciation.of(water.withCyanuricAcid(water.cyanuricAcid() + 10)).hocl()).as(water.toString())
				.isLessThan(Speciation.of(water).hocl()));
	}

	@Test
	void acidLowersAndAlkaliRaisesThePhByConservedAmounts() {
		waters().filter(water -> water.totalAlkalinity() > 60).forEach(water -> {
			Water acid = Dosing.add(water, Reagent.HYDROCHLORIC_ACID, 5);
			assertThat(acid.ph()).as(water.toString()).isLessThan(water.ph());
			assertThat(acid.totalAlkalinity()).isCloseTo(water.totalAlkalinity() - 5 * 1.3726, within(0.01));
			assertThat(Dosing.add(water, Reagent.SODIUM_CARBONATE, 5).ph()).isGreaterThan(water.ph());
			assertThat(Speciation.of(acid).totalInorganicCarbon()).isCloseTo(Speciation.of(water).totalInorganicCarbon(), within(1e-6));
		});
	}

	@Test
	void doseForAPhReachesThatPh() {
		waters().filter(water -> water.ph() > 7.3 && water.totalAlkalinity() > 40).forEach(water -> {
			double dose = Dosing.doseForPh(water, Reagent.HYDROCHLORIC_ACID, 7.2).orElseThrow();
			assertThat(Dosing.add(water, Reagent.HYDROCHLORIC_ACID, dose).ph()).as(water.toString()).isCloseTo(7.2, within(1e-6));
		});
		waters().filter(water -> water.ph() < 7.5).forEach(water -> {
			double dose = Dosing.doseForPh(water, Reagent.SODIUM_HYDROXIDE, 7.6).orElseThrow();
			assertThat(Dosing.add(water, Reagent.SODIUM_HYDROXIDE, dose).ph()).as(water.toString()).isCloseTo(7.6, within(1e-6));
		});
	}

	@Test
	void takingADoseAwayAgainRestoresTheWater() {
		waters().filter(water -> water.totalAlkalinity() > 60).forEach(water -> {
			Water back = Dosing.add(Dosing.add(water, Reagent.SODIUM_BICARBONATE, 40), Reagent.SODIUM_BICARBONATE, -40);
			assertThat(back.ph()).as(water.toString()).isCloseTo(water.ph(), within(1e-7));
			assertThat(back.totalAlkalinity()).isCloseTo(water.totalAlkalinity(), within(1e-9));
		});
	}

	@Test
	void twoHalvesAreOneDose() {
		waters().forEach(water -> {
			Water once = Dosing.addChlorine(water, ChlorineSource.CALCIUM_HYPOCHLORITE, 6);
			Water twice = Dosing.addChlorine(Dosing.addChlorine(water, ChlorineSource.CALCIUM_HYPOCHLORITE, 3),
					ChlorineSource.CALCIUM_HYPOCHLORITE, 3);
			assertThat(twice.ph()).as(water.toString()).isCloseTo(once.ph(), within(1e-7));
			assertThat(twice.calciumHardness()).isCloseTo(once.calciumHardness(), within(1e-9));
		});
	}

	@Test
	void hypochloriteIsNeutralOnceItIsSpent() {
		waters().forEach(water -> {
			Water spent = Dosing.spendChlorine(Dosing.addChlorine(water, ChlorineSource.SODIUM_HYPOCHLORITE, 5), 5);
			assertThat(spent.totalAlkalinity()).isCloseTo(water.totalAlkalinity(), within(1e-9));
			assertThat(spent.freeChlorine()).isCloseTo(water.freeChlorine(), within(1e-9));
			assertThat(spent.ph()).as(water.toString()).isCloseTo(water.ph(), within(0.01));
		});
	}

	@Test
	void replacingNothingChangesNothingAndReplacingAllIsTheFillWater() {
		Water fill = Water.of(7.8, 120, 200, 0, 0.2, 120, 0, Temperature.ofCelsius(20));
		waters().forEach(water -> {
			assertThat(Dosing.replace(water, fill, 0).ph()).isCloseTo(water.ph(), within(1e-7));
			assertThat(Dosing.replace(water, fill, 1).ph()).isCloseTo(7.8, within(1e-7));
			double half = Dosing.replace(water, fill, 0.5).cyanuricAcid();
			assertThat(half).isCloseTo(water.cyanuricAcid() / 2, within(1e-9));
		});
	}

	@Test
	void noAcidRaisesThePh() {
		waters().filter(water -> water.ph() < 7.9)
			.limit(100)
			.forEach(water -> assertThat(Dosing.doseForPh(water, Reagent.HYDROCHLORIC_ACID, 8)).as(water.toString()).isEmpty());
	}

	@Test
	void precipitationEndsAtSaturation() {
		waters().filter(water -> water.calciumHardness() > 100 && water.salt() < 10_000).limit(300).forEach(water -> {
			Dosing.Precipitation fallen = Dosing.carbonatePrecipitationPotential(water);
			assertThat(Speciation.of(fallen.water()).calciteSaturationIndex()).as(water.toString()).isCloseTo(0, within(1e-6));
			assertThat(Math.signum(fallen.calciumCarbonate())).isEqualTo(Math.signum(Speciation.of(water).calciteSaturationIndex()));
		});
	}

	/** Conservative levels mix by shares: what the fill water holds of each, chlorine and sulfate too, comes in with it. */
	@Test
	void everyLevelMixesByShares() {
		Water fill = new Water(7.8, 120, 200, 10, 0.5, 120, 8, 90, Temperature.ofCelsius(20));
		waters().limit(100).forEach(drawn -> {
			Water water = drawn.withSulfate(40);
			Water mixed = Dosing.replace(water, fill, 0.25);
			assertThat(mixed.totalAlkalinity()).isCloseTo(0.75 * water.totalAlkalinity() + 0.25 * 120, within(1e-9));
			assertThat(mixed.calciumHardness()).isCloseTo(0.75 * water.calciumHardness() + 0.25 * 200, within(1e-9));
			assertThat(mixed.cyanuricAcid()).isCloseTo(0.75 * water.cyanuricAcid() + 0.25 * 10, within(1e-9));
			assertThat(mixed.freeChlorine()).isCloseTo(0.75 * water.freeChlorine() + 0.25 * 0.5, within(1e-9));
			assertThat(mixed.salt()).isCloseTo(0.75 * water.salt() + 0.25 * 120, within(1e-9));
			assertThat(mixed.borate()).isCloseTo(0.75 * water.borate() + 0.25 * 8, within(1e-9));
			assertThat(mixed.sulfate()).isCloseTo(0.75 * 40 + 0.25 * 90, within(1e-9));
			assertThat(mixed.temperature()).isEqualTo(water.temperature());
		});
	}

	/** The least alkalinity there can be is the one at which no carbon is left; less is a contradiction. */
	@Test
	void leastAlkalinityIsWhatHoldsNoCarbon() {
		waters().limit(500).forEach(water -> {
			double least = Speciation.of(water).alkalinityWithoutCarbonate();
			assertThat(least).as(water.toString()).isLessThanOrEqualTo(water.totalAlkalinity());
			// the ionic strength follows the alkalinity a little
			Water bare = water.withTotalAlkalinity(least);
			double again = Speciation.of(bare).alkalinityWithoutCarbonate();
			assertThat(again).isCloseTo(least, within(0.03 * Math.abs(least) + 0.01));
			assertThat(Speciation.of(water.withTotalAlkalinity(again - 0.5)).contradictory()).isTrue();
			assertThat(Speciation.of(water.withTotalAlkalinity(again + 0.5)).contradictory()).isFalse();
		});
	}

	@Test
	void refusalNamesTheAlkalinityThatIsMissing() {
		// At pH 8 CYA counts with 0.36 of its 200 ppm and borate of 50 ppm with some 14 (saturation-index-factors.csv; docs).
		Water water = Water.of(8, 10, 300, 200, 0, 1000, 0, Temperature.ofCelsius(25));
		assertThatThrownBy(() -> Dosing.add(water, Reagent.SODIUM_CHLORIDE, 1)).hasMessageContaining("pH 8.0")
			.hasMessageContaining("hold 7")
			.hasMessageContaining("10.0 mg/L: repeat");
	}

	static Stream<Arguments> levels() {
		return Stream.of(Arguments.of("pH", 0.0, 14.0), Arguments.of("total alkalinity", -100_000.0, 100_000.0),
				Arguments.of("calcium hardness", 0.0, 100_000.0), Arguments.of("cyanuric acid", 0.0, 100_000.0),
				Arguments.of("free chlorine", 0.0, 100_000.0), Arguments.of("salt", 0.0, 100_000.0),
				Arguments.of("borate", 0.0, 100_000.0), Arguments.of("sulfate", 0.0, 100_000.0),
				Arguments.of("temperature", 0.0, 60.0));
	}

	@ParameterizedTest(name = "{0}")
	@MethodSource("levels")
	void everyLevelOfAWaterHasItsEnds(String level, double least, double most) {
		assertThat(waterWith(level, least)).isNotNull();
		assertThat(waterWith(level, most)).isNotNull();
		for (double beyond : new double[]{ least - 0.1, most + 0.1, Double.NaN }) {
			if (!level.equals("temperature") || !Double.isNaN(beyond)) {
				assertThatThrownBy(() -> waterWith(level, beyond)).isInstanceOf(IllegalArgumentException.class)
					.hasMessageContaining(level)
					.hasMessageContaining("not " + beyond);
			}
		}
	}

	private static Water waterWith(String level, double value) {
		Water water = Water.of(7.5, 100, 300, 50, 3, 1000, 0, Temperature.ofCelsius(25));
		return switch (level) {
			case "pH" -> water.withPh(value);
			case "total alkalinity" -> water.withTotalAlkalinity(value);
			case "calcium hardness" -> water.withCalciumHardness(value);
			case "cyanuric acid" -> water.withCyanuricAcid(value);
			case "free chlorine" -> water.withFreeChlorine(value);
			case "salt" -> Water.of(7.5, 100, 300, 50, 3, value, 0, Temperature.ofCelsius(25));
			case "borate" -> Water.of(7.5, 100, 300, 50, 3, 1000, value, Temperature.ofCelsius(25));
			case "sulfate" -> water.withSulfate(value);
			case "temperature" -> water.withTemperature(Temperature.ofCelsius(value));
			default -> throw new AssertionError(level);
		};
	}

	static Stream<Runnable> impossible() {
		Water water = Water.of(7.5, 100, 300, 50, 3, 1000, 0, Temperature.ofCelsius(25));
		return Stream.of(() -> Water.of(15, 100, 300, 0, 0, 0, 0, Temperature.ofCelsius(25)),
				() -> Water.of(7, Double.NaN, 300, 0, 0, 0, 0, Temperature.ofCelsius(25)), () -> water.withFreeChlorine(-1),
				() -> Dosing.replace(water, water, 1.2),
				() -> Dosing.add(Water.of(8, 10, 300, 200, 3, 1000, 50, Temperature.ofCelsius(25)), Reagent.SODIUM_CHLORIDE, 1));
	}

	@ParameterizedTest
	@MethodSource("impossible")
	void whatCannotBeIsRefused(Runnable attempt) {
		assertThatThrownBy(attempt::run).isInstanceOf(IllegalArgumentException.class);
	}

}
