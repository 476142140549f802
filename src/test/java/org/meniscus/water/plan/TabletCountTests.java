package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.UnaryOperator;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.season.TotalCost;
import org.meniscus.water.units.UnitSystem;

/** Tablets as a step of the plan, where the service fills floater or feeder. */
class TabletCountTests {

	private static final double LITRES = 15_000 * 3.785411784;

	private static final PoolFacts POOL = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.FLOATER);

	/** Uses 1.6 ppm a day at FC 4: a dose up to 8 is gone before a week is over. */
	private static final ChlorineDemand HUNGRY = new ChlorineDemand(0.1, 1.2, 0, 0.1, 0.15, 0, 12);

	private static final double TABLET_PPM = 227 * 0.9 * 1000 / LITRES;

	private static PlanRequest request(PoolFacts pool, Readings.Builder readings, double ceiling, int days, ChlorineDemand demand) {
		return new PlanRequest(pool, readings.build(), Situation.ROUTINE, Pools.truck(), TreatmentPolicy.withCeiling(ceiling), days,
				UnitSystem.US)
			.withForecast(PoolForecast.expected(pool).withDemand(demand));
	}

	private static Plan plan(PlanRequest request) {
		return (Plan) Planner.plan(request);
	}

	private static Optional<Step> fed(Plan plan) {
		return plan.steps().stream().filter(step -> step.purpose() == Step.Purpose.FEED).findFirst();
	}

	private static double count(Step step) {
		return step.amount().counted().count();
	}

	private static List<String> refused(Plan plan) {
		return plan.rejected()
			.stream()
			.filter(other -> other.product().kind() == ProductKind.TRICHLOR_TAB)
			.map(other -> other.reason().code())
			.toList();
	}

	@Test
	void tabletsHoldWhatADoseCannot() {
		Plan hand = plan(request(Pools.plaster(15_000), Pools.balanced().fc(1.0), 8, 7, HUNGRY));
		assertThat(hand.outcome().holdProbability()).isLessThan(0.05);
		assertThat(fed(hand)).isEmpty();
		assertThat(hand.outcome().suggestions()).extracting(Reason::code).contains("offer.tablets");

		Plan plan = plan(request(POOL, Pools.balanced().fc(1.0).cya(35.0), 8, 7, HUNGRY));
		Step step = fed(plan).orElseThrow();
		assertThat(plan.outcome().holdProbability()).isGreaterThanOrEqualTo(0.85);
		assertThat(plan.outcome().suggestions()).isEmpty();
		// In a week all of a tablet dissolves: supply a day = tablets x 3.6 ppm / 7; the pool uses 1.4 to 1.8 ppm a day.
		assertThat(count(step) * TABLET_PPM / 7).isBetween(0.8, 2.3);
		assertThat(step.after()).as("nothing moves at once").isEqualTo(step.before());
		assertThat(step.instructions()).extracting(Reason::code).contains("apply.feeder", "apply.floater");
		assertThat(step.cautions()).extracting(Reason::code).contains("caution.feeder-of-its-own");
		// remove floater before swimming: products.csv of the trade tables
		assertThat(plan.swim().reasons()).extracting(Reason::code).contains("swim.floater-out");
		assertThat(hand.swim().reasons()).extracting(Reason::code).doesNotContain("swim.floater-out");
		double fedFor = count(step) * TABLET_PPM;
		// 0.61 ppm of CYA for each ppm of chlorine from trichlor: products.csv of the trade tables.
		assertThat(plan.outcome().nextVisit().get(Level.CYA).middle()).isCloseTo(35 + 0.61 * fedFor, within(0.1));
		assertThat(step.reason().args().get(2)).isInstanceOfSatisfying(Term.Value.class,
				cya -> assertThat(cya.value()).isCloseTo(0.61 * fedFor, within(0.05)));
	}

	/** Winter thins what autumn leaves: above the ideal range room for stabilizer is kept in spring and used in September. */
	@Test
	void roomForStabilizerIsKeptAboveTheIdealRange() {
		PlanRequest spring = request(POOL, Pools.balanced().fc(1.0).cya(48.0), 8, 7, HUNGRY);
		Plan autumn = plan(spring.withForecast(spring.forecast().withToday(new ClimateDay(ClimateNormals.TEMPERATE, 255))));
		assertThat(count(fed(autumn).orElseThrow())).isGreaterThan(fed(plan(spring)).map(TabletCountTests::count).orElse(0.0));
	}

	/** No week without chlorine to save stabilizer: while CYA stays in the ideal range tablets go in. */
	@Test
	void tabletsAreNotRefusedForStabilizerWithinTheIdealRange() {
		Random random = new Random(71);
		for (int n = 0; n < Draws.COUNT / 10; n++) {
			PoolFacts pool = Pools.of(8000 + 400 * random.nextInt(50), BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.FLOATER);
			double cya = 20.0 + 5 * random.nextInt(4);
			Readings readings = Pools.balanced()
				.fc(0.5 * random.nextInt(4))
				.cya(cya)
				.ph(7.5)
				.celsius(24 + 6 * random.nextDouble())
				.build();
			PlanRequest drawn = new PlanRequest(pool, readings, Situation.ROUTINE, Pools.truck(), TreatmentPolicy.defaults(), 7,
					UnitSystem.METRIC);
			PlanRequest request = drawn.withForecast(drawn.forecast().withTablets(DissolvingTablets.NONE)
				.withToday(new ClimateDay(ClimateNormals.TEMPERATE, 1 + random.nextInt(365))));
			Plan plan = plan(request);
			assertThat(plan.tasks()).extracting(Reason::code).doesNotContain("work.no-tablets");
			assertThat(fed(plan)).as("%s of %.0f l", readings, pool.volume().litres()).isPresent();
			assertThat(plan.outcome().nextVisit().get(Level.FC).middle()).isGreaterThan(0.5);
		}
	}

	@Test
	void liquidChlorineMayGoWithThemAfterItsGapAndNoOther() {
		Plan plan = plan(request(POOL, Pools.balanced().fc(1.0).cya(35.0), 8, 7, HUNGRY));
		List<Step.Purpose> purposes = plan.steps().stream().map(Step::purpose).toList();
		assertThat(purposes).containsSubsequence(Step.Purpose.RAISE_FC, Step.Purpose.FEED);
		Step poured = plan.steps().get(purposes.indexOf(Step.Purpose.RAISE_FC));
		assertThat(poured.product().kind().ingredient()).isEqualTo(ActiveIngredient.SODIUM_HYPOCHLORITE);
		assertThat(poured.alternatives()).filteredOn(other -> other.product().kind() == ProductKind.CAL_HYPO_65)
			.singleElement()
			.satisfies(other -> assertThat(other.reason().code()).isEqualTo("alternative.holds-less"));
		assertThat(poured.alternatives()).extracting(other -> other.product().kind()).doesNotContain(ProductKind.TRICHLOR_TAB);
		assertThat(fed(plan).orElseThrow().startMinutes() - poured.startMinutes()).isGreaterThanOrEqualTo(15);
		assertThat(fed(plan).orElseThrow().alternatives()).extracting(other -> other.reason().code()).contains("alternative.holds-less");
	}

	@Test
	void stabilizerAcidAndAlkalinitySetTheLimit() {
		// trichlor: not from CYA 80, products.csv and the choice of shocks in the trade tables
		assertThat(fed(plan(request(POOL, Pools.balanced().fc(1.0).cya(80.0), 8, 7, HUNGRY)))).isEmpty();
		assertThat(refused(plan(request(POOL, Pools.balanced().fc(1.0).cya(80.0), 8, 7, HUNGRY)))).containsExactly("reject.cya-enough");
		assertThat(refused(plan(request(POOL, Pools.balanced().fc(1.0).cya(null), 8, 7, HUNGRY)))).containsExactly("reject.cya-unknown");
		assertThat(refused(plan(request(POOL, Pools.balanced().fc(1.0).ta(60.0), 8, 7, HUNGRY)))).containsExactly("reject.tablets-ta");
		assertThat(refused(plan(request(POOL, Pools.balanced().fc(1.0).ph(7.0), 8, 7, HUNGRY)))).containsExactly("reject.tablets-ph");
		PoolFacts vinyl = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.FLOATER);
		assertThat(refused(plan(request(vinyl, Pools.balanced().fc(1.0), 8, 7, HUNGRY)))).containsExactly("reject.surface");
	}

	/** With a ceiling of 4 ppm and a ratio of 20, CYA 80 leaves no room for FC at all; what is lost by the next visit comes off that. */
	@Test
	void theCeilingLimitsTheStabilizerOfTablets() {
		for (double cya = 30; cya < 80; cya += 5) {
			PlanRequest request = request(POOL, Pools.balanced().fc(1.0).cya(cya), 4, 7, HUNGRY);
			Plan plan = plan(request);
			double fedFor = fed(plan).map(TabletCountTests::count).orElse(0.0) * TABLET_PPM;
			if (fedFor > 0) {
				double left = request.forecast().withTabletsAdded(fedFor, 7).demand().expected(4, 7);
				assertThat(cya + 0.607 * fedFor).as("from %.0f", cya).isLessThanOrEqualTo(20 * Math.max(2, left) + 0.1);
			}
		}
	}

	@Test
	void noneFromTheAcceptableEndOfAPoolsOwnRange() {
		Range wanted = new Range(0, 20, 30, 45, "own");
		PoolFacts pool = POOL.withTargets(POOL.targets().with(Map.of(Level.CYA, wanted)));
		assertThat(fed(plan(request(pool, Pools.balanced().fc(1.0).cya(30.0), 8, 7, HUNGRY)))).isPresent();
		assertThat(refused(plan(request(pool, Pools.balanced().fc(1.0).cya(45.0), 8, 7, HUNGRY)))).containsExactly("reject.cya-enough");
	}

	@Test
	void whatDissolvesAlreadyIsCountedAndSaid() {
		PlanRequest empty = request(POOL, Pools.balanced().fc(3.0).cya(30.0), 8, 7, HUNGRY);
		double without = count(fed(plan(empty)).orElseThrow());
		PlanRequest half = empty.withForecast(empty.forecast().withTablets(new DissolvingTablets(2 * TABLET_PPM, 4 * TABLET_PPM / 7)));
		Plan plan = plan(half);
		assertThat(fed(plan).map(TabletCountTests::count).orElse(0.0)).isLessThan(without);
		assertThat(Pools.notes(plan)).extracting(Reason::code).contains("note.tablets-dissolving");
	}

	@Test
	void aFeederThatOthersFillIsLeftToThem() {
		PoolFacts feeder = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.TABLET_FEEDER);
		PlanRequest others = request(feeder, Pools.balanced().fc(1.0).cya(35.0), 8, 7, HUNGRY);
		assertThat(fed(plan(others))).isEmpty();
		assertThat(fed(plan(others.withForecast(others.forecast().withTablets(DissolvingTablets.NONE))))).isPresent();
	}

	@Test
	void whereBothHoldTheCheaperIsTaken() {
		ChlorineDemand modest = new ChlorineDemand(0.1, 0.2, 0, 0.05, 0.1, 0, 12);
		UnaryOperator<Product> dearTablets = product -> (product.kind() == ProductKind.TRICHLOR_TAB) ? product.withPrice(453.6, 4000L)
				: product;
		UnaryOperator<Product> cheapTablets = product -> (product.kind() == ProductKind.TRICHLOR_TAB) ? product.withPrice(453.6, 50L)
				: product;
		PlanRequest request = request(POOL, Pools.balanced().fc(2.5).cya(30.0), 10, 7, modest);
		assertThat(fed(plan(with(request, dearTablets)))).isEmpty();
		Plan cheap = plan(with(request, cheapTablets));
		assertThat(fed(cheap)).isPresent();
		TotalCost.LevelCost kept = cheap.cost().levelCosts().stream().filter(one -> one.level() == Level.FC).findFirst().orElseThrow();
		assertThat(kept.cost()).as("what is still there next time need not be bought").isNegative();
		assertThat(kept.change()).isPositive();
	}

	private static PlanRequest with(PlanRequest request, UnaryOperator<Product> change) {
		return new PlanRequest(request.pool(), request.readings(), request.situation(), request.products().stream().map(change).toList(),
				request.policy(), request.daysToNextVisit(), request.units())
			.withForecast(request.forecast());
	}

	@Test
	void recordedTabletsDissolveOverAWeek() {
		RecordedDose two = new RecordedDose(ProductKind.TRICHLOR_TAB, 0.9, StrengthBasis.PURITY, 2 * 227);
		PoolHistory.Visit filled = new PoolHistory.Visit(0, Pools.balanced().build(), Situation.ROUTINE, List.of(two), null);
		PoolHistory.Visit today = new PoolHistory.Visit(3, Pools.balanced().build(), Situation.ROUTINE, List.of(), null);
		DissolvingTablets left = new PoolHistory(POOL, List.of(filled, today)).forecast().tablets();
		assertThat(left.undissolved()).isCloseTo(2 * TABLET_PPM * 4 / 7, within(1e-9));
		assertThat(left.perDay()).isCloseTo(2 * TABLET_PPM / 7, within(1e-9));
		assertThat(left.dissolvedWithin(2)).isCloseTo(2 * TABLET_PPM * 2 / 7, within(1e-9));
		assertThat(left.dissolvedWithin(10)).isCloseTo(left.undissolved(), within(1e-9));
		assertThat(new PoolHistory(Pools.plaster(15_000), List.of(filled, today)).forecast().tablets()).isNull();
	}

}
