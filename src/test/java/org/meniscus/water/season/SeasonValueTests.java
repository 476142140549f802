package org.meniscus.water.season;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.demand.PoolKind;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.Volume;

/** What CYA and CH are worth: drawn pools, and what has to hold of any value. */
class SeasonValueTests {

	private static final int DRAWS = Math.min(400, Integer.getInteger("draws", 2000) / 50);

	private static final List<ClimateNormals> CLIMATES = List.of(ClimateNormals.TEMPERATE, ClimateNormals.HOT_DRY,
			ClimateNormals.SUBTROPICAL, ClimateNormals.MEDITERRANEAN);

	private record Case(PoolFacts pool, TreatmentPolicy policy, PriceList prices, PoolForecast forecast, Water water, int days) {

		static Case draw(Random random) {
			Sanitizer sanitizer = List.of(Sanitizer.CHLORINE_BY_HAND, Sanitizer.FLOATER, Sanitizer.TABLET_FEEDER, Sanitizer.SALT_CELL)
				.get(random.nextInt(4));
			double litres = 20_000 + 120_000 * random.nextDouble();
			PoolFacts pool = PoolFacts
				.of(Volume.ofLitres(litres), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer)
				.withFill(new FillWater(7.6, 60 + 100 * random.nextDouble(), 300 * random.nextDouble(), 150.0));
			Water water = Water.of(7.5, 90, 150 + 300 * random.nextDouble(), 10 + 80 * random.nextDouble(), 3, 1000, 0,
					Temperature.ofCelsius(18 + 12 * random.nextDouble()));
			ClimateDay today = new ClimateDay(CLIMATES.get(random.nextInt(4)), 1 + random.nextInt(365));
			return new Case(pool, TreatmentPolicy.withCeiling(4 + random.nextInt(7)), new PriceList(products(), litres),
					PoolForecast.expected(pool).withToday(today), water, 2 + random.nextInt(10));
		}

		SeasonValue value() {
			return SeasonValue.of(this.pool, this.policy, this.prices, this.forecast, this.water, this.days);
		}

	}

	private static List<Product> products() {
		List<Product> products = new ArrayList<>();
		for (ProductKind kind : ProductKind.values()) {
			products.add(Product.usual(kind.name(), kind));
		}
		return products;
	}

	private static SeasonValue value(Sanitizer sanitizer, ClimateNormals climate, int dayOfYear, double ceiling) {
		PoolFacts pool = PoolFacts.of(Volume.ofLitres(60_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, false,
				sanitizer);
		return SeasonValue.of(pool, TreatmentPolicy.withCeiling(ceiling), new PriceList(products(), 60_000),
				PoolForecast.expected(pool).withToday(new ClimateDay(climate, dayOfYear)),
				Water.of(7.5, 90, 280, 40, 3, 1000, 0, Temperature.ofCelsius(26)), 7);
	}

	/** Excess of either is never worth more than standing at its limit; what is missing is never worth more than buying it. */
	@Test
	void marginalPricesHaveTheirSigns() {
		Random random = new Random(11);
		for (int n = 0; n < DRAWS; n++) {
			Case at = Case.draw(random);
			SeasonValue value = at.value();
			// From 100, or where the ratio leaves no room under the ceiling, plans ask for new water.
			double excess = Math.min(100, 20 * at.policy().fcCeiling());
			double enough = value.atNextVisit(new State(excess, 300));
			for (double cya = excess + 5; cya < 200; cya += 5) {
				assertThat(value.atNextVisit(new State(cya, 300))).as("%s at %.0f", at, cya).isGreaterThan(enough);
			}
			double soft = value.atNextVisit(new State(40, 700));
			for (double ch = 750; ch < 1400; ch += 50) {
				assertThat(value.atNextVisit(new State(40, ch))).as("%s at %.0f", at, ch).isGreaterThan(soft - ValueFunction.TOLERANCE);
			}
			// Prices and volume are rounded by up to 7.5 % each.
			double bought = 10 * at.prices().raise(Level.CYA) * 1.16;
			boolean served = !at.forecast().today().climate().equals(ClimateNormals.TEMPERATE)
					|| (at.forecast().today().dayOfYear() > 110 && at.forecast().today().dayOfYear() < 310);
			for (double cya = 0; served && cya < 30; cya += 10) {
				assertThat(value.atNextVisit(new State(cya, 300)) - value.atNextVisit(new State(cya + 10, 300))).as("%s at %.0f", at, cya)
					.isLessThan(bought + 1);
			}
		}
	}

	/** The years ahead hold what plans hold, and tablets may go as far as doses hold what their CYA asks for. */
	@Test
	void valueHoldsWhatPlansHold() {
		Random random = new Random(17);
		for (int n = 0; n < 10 * DRAWS; n++) {
			Case at = Case.draw(random);
			double cya = 0.1 + 200 * random.nextDouble();
			double ceiling = at.policy().fcCeiling();
			double held = Assessor.fcToHold(at.pool(), Readings.builder().cya(cya).build(), at.policy());
			assertThat(Assessor.fcToHold(Assessor.fcStabilized(at.pool()), cya, at.policy().cyaPerFc(), ceiling)).isCloseTo(held,
					within(1e-9));
			double fromCeiling = ceiling * random.nextDouble();
			double cap = SeasonValue.tabletCyaCap(at.pool(), at.policy(), fromCeiling);
			assertThat(cap).isEqualTo(Math.min(80, 20 * Math.max(0.75 * ceiling, fromCeiling)), within(1e-9));
			if (cya < Math.min(cap, Assessor.cyaToHold(at.policy()))) {
				assertThat(held).isGreaterThanOrEqualTo(cya / 20 - 1e-9);
			}
		}
	}

	/** A ppm of the reading moves the value by no more than its share of a whole change of water. */
	@Test
	void valueHasNoCliffs() {
		Random random = new Random(12);
		for (int n = 0; n < DRAWS; n++) {
			Case at = Case.draw(random);
			SeasonValue value = at.value();
			double change = at.prices().litres() / 1000 * at.policy().costs().waterPerM3() + 3 * at.policy().costs().drainLabor();
			for (double cya = 0; cya < 90; cya += 0.5) {
				assertThat(Math.abs(value.atNextVisit(new State(cya + 0.5, 300)) - value.atNextVisit(new State(cya, 300))))
					.as("%s at %.1f", at, cya)
					.isLessThan(0.02 * change);
			}
		}
	}

	@Test
	void yearsDifferencesConvergeAndTheYearIsPeriodic() {
		Random random = new Random(13);
		for (int n = 0; n < 12; n++) {
			SeasonProblem problem = problem(random);
			ValueIteration solution = ValueFunction.solve(problem);
			assertThat(solution.span()).as("%s", problem).isLessThanOrEqualTo(20);
			assertThat(solution.years()).isLessThan(60);
			SeasonOperator operator = new SeasonOperator(problem);
			double[] last = new double[operator.states()];
			operator.backUp(TransitionModel.WEEKS - 1, solution.values()[0], last);
			for (int state = 0; state < last.length; state++) {
				assertThat(last[state] - solution.values()[TransitionModel.WEEKS - 1][state]).as("next year's first week follows the last")
					.isCloseTo(solution.costPerYear(), within(20.0));
			}
		}
	}

	private static SeasonProblem problem(Random random) {
		Supply supply = Supply.values()[random.nextInt(Supply.values().length)];
		return new SeasonProblem(CLIMATES.get(random.nextInt(4)), new PoolKind(false, false, 60_000.0, PoolKind.Feed.NONE), supply,
				0.5 + 1.5 * random.nextDouble(), random.nextBoolean() ? 7 : 3.5, 4 + random.nextInt(7), 20, 2, 2, 1.28, 3.4, 80, 100, 40,
				new SeasonProblem.HardnessRange(150, 200, 400, 1000, 700), 100, 300 * random.nextDouble(), 0, 0,
				new SeasonPrices(45, 45, 60, 20, 9, 50, 20, 9600, 9000, 100 + 900 * random.nextDouble()));
	}

	/** Winter thins what autumn leaves: where pools freeze, stabilizer on top of enough costs least late in the season. */
	@Test
	void nextSpringsLevelIsWhatIsProtected() {
		double spring = onTop(value(Sanitizer.FLOATER, ClimateNormals.TEMPERATE, 130, 10));
		double autumn = onTop(value(Sanitizer.FLOATER, ClimateNormals.TEMPERATE, 280, 10));
		assertThat(autumn).isLessThan(0.6 * spring);
		double noWinter = onTop(value(Sanitizer.FLOATER, ClimateNormals.HOT_DRY, 280, 10));
		assertThat(noWinter).isGreaterThan(autumn);
	}

	/** Cost of 10 ppm CYA on top of 60. */
	private static double onTop(SeasonValue value) {
		return value.atNextVisit(new State(70, 300)) - value.atNextVisit(new State(60, 300));
	}

	@ParameterizedTest
	@ValueSource(doubles = { 4, 6, 10 })
	void stabilizerPaysInSummerAndNotBeforeWinter(double ceiling) {
		assertThat(value(Sanitizer.CHLORINE_BY_HAND, ClimateNormals.TEMPERATE, 170, ceiling).stabilizerTarget(280)).isBetween(20.0, 40.0);
		assertThat(value(Sanitizer.CHLORINE_BY_HAND, ClimateNormals.TEMPERATE, 325, ceiling).stabilizerTarget(280)).isLessThanOrEqualTo(10);
	}

	@Test
	void drainPaysWhereStabilizerLeavesNoRoomAndNotInGoodWater() {
		SeasonValue summer = value(Sanitizer.CHLORINE_BY_HAND, ClimateNormals.HOT_DRY, 130, 4);
		assertThat(summer.paysToReplace(new State(40, 280), 1.0 / 3, 1)).isFalse();
		// A half brings 140 to 70, from where chlorine has room under the ceiling again; a third does not.
		assertThat(summer.paysToReplace(new State(140, 280), 0.5, 2)).isTrue();
		assertThat(summer.paysToReplace(new State(110, 280), 1.0 / 3, 1)).isTrue();
		assertThat(summer.netCostOfReplacing(new State(40, 280), 0.5, 2)).isGreaterThan(0);
		assertThat(summer.costOfReplacing(0.5, 2)).as("30 m3 at 1.60 and two visits at 90").isCloseTo(30 * 160 + 2 * 9000, within(1e-9));
	}

	/** Rounded facts are the key: who asks first, and how many at once, changes nothing. */
	@Test
	void solutionDoesNotDependOnWhoAsksFirst() {
		List<Double> parallel = IntStream.range(0, 64).parallel().mapToObj(SeasonValueTests::one).toList();
		List<Double> backward = new ArrayList<>(IntStream.range(0, 64).mapToObj(n -> one(63 - n)).toList());
		Collections.reverse(backward);
		assertThat(backward).isEqualTo(parallel);
	}

	private static double one(int n) {
		return Case.draw(new Random(100 + n / 2)).value().atNextVisit(new State(55, 310));
	}

	@Test
	void poolsWithoutASeasonHaveNone() {
		PoolFacts spa = PoolFacts.of(Volume.ofLitres(1500), VolumeCertainty.CALCULATED, BodyOfWater.SPA, Surface.FIBREGLASS, false,
				Sanitizer.CHLORINE_BY_HAND);
		PoolFacts indoor = PoolFacts.of(Volume.ofLitres(60_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, true,
				Sanitizer.CHLORINE_BY_HAND);
		Water water = Water.of(7.5, 90, 280, 20, 3, 1000, 0, Temperature.ofCelsius(26));
		for (PoolFacts pool : List.of(spa, indoor)) {
			assertThat(SeasonValue.of(pool, TreatmentPolicy.defaults(), new PriceList(products(), 60_000), PoolForecast.expected(pool),
					water, 7))
				.isNull();
		}
	}

}
