package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.UnitSystem;

/** Metals, ammonia and phosphate by their readings. */
class TraceDosingTests {

	private static final double GALLONS = 10_000;

	private static final PoolFacts POOL = Pools.plaster(GALLONS);

	/** A label that gives 1 US quart for 10,000 gal and 1 ppm of metal: 946.35 mL in 37.854 m³ are 25 mL a cubic metre. */
	private static final double QUART = 25;

	private static Product sequestrant() {
		return Product.usual("s", ProductKind.SEQUESTRANT).withLabelPerPpm(QUART);
	}

	private static Plan plan(Readings.Builder readings, Situation situation, Product... special) {
		List<Product> products = new ArrayList<>(Pools.truck());
		products.removeIf(product -> List.of(special).stream().anyMatch(other -> other.kind() == product.kind()));
		products.addAll(List.of(special));
		return (Plan) Planner
			.plan(new PlanRequest(POOL, readings.build(), situation, products, TreatmentPolicy.defaults(), 0, UnitSystem.US));
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

	private static @Nullable Step step(Plan plan, Step.Purpose purpose) {
		return plan.steps().stream().filter(step -> step.purpose() == purpose).findFirst().orElse(null);
	}

	/** By the label above: 0.35 ppm of copper, 0.2 of iron and 0.05 of manganese take 0.6 qt, 19.2 fl oz, measured down. */
	@Test
	void sequestrantGoesInByItsLabelForAllMetal() {
		Plan plan = plan(
				Pools.balanced().fc(3.9).trace(Level.COPPER, 0.35).trace(Level.IRON, 0.2).trace(Level.MANGANESE, 0.05), Situation.ROUTINE,
				sequestrant());
		Step step = Objects.requireNonNull(step(plan, Step.Purpose.HOLD_METAL));
		assertThat(step.unroundedAmount()).isCloseTo(0.6 * QUART * GALLONS * 3.785411784 / 1000, within(0.1));
		assertThat(Objects.requireNonNull(step.amount()).amount()).isBetween(18.9 * 29.5735, 19.3 * 29.5735);
		assertThat(codes(plan.cautions())).contains("not.copper-metal", "not.ph-up-metal");
	}

	@Test
	void withoutARateTheLabelGivesTheAmount() {
		Step step = Objects.requireNonNull(
				step(plan(Pools.balanced().fc(3.9).trace(Level.IRON, 0.5), Situation.ROUTINE), Step.Purpose.HOLD_METAL));
		assertThat(step.amount()).isNull();
		assertThat(step.unroundedAmount()).isNull();
		assertThat(step.costCents()).isNull();
	}

	/** Rows stain_iron and stain_copper of situations.csv: above 0.3 ppm; 40 CFR 143.3: manganese above 0.05; at it nothing goes in. */
	@ParameterizedTest
	@CsvSource({ "COPPER, 0.3, false", "COPPER, 0.35, true", "IRON, 0.3, false", "IRON, 0.35, true",
			"MANGANESE, 0.05, false", "MANGANESE, 0.06, true" })
	void metalIsHeldAboveWhatStains(Level metal, double ppm, boolean held) {
		Plan plan = plan(Pools.balanced().fc(3.9).trace(metal, ppm), Situation.ROUTINE, sequestrant());
		assertThat(step(plan, Step.Purpose.HOLD_METAL) != null).isEqualTo(held);
	}

	/** Of several metals the one furthest above what stains is named, and where it comes from. */
	@ParameterizedTest
	@CsvSource({ "0.5, 0, 0, COPPER, work.copper-source", "0.1, 0.5, 0, IRON, work.iron-source",
			"0.1, 0.1, 0.2, MANGANESE, work.manganese-source", "0.4, 0.6, 0.2, IRON, work.iron-source",
			"0.31, 0.31, 0.2, MANGANESE, work.manganese-source" })
	void worstMetalIsNamedWithItsSource(double copper, double iron, double manganese, Level worst, String source) {
		Plan plan = plan(Pools.balanced().fc(3.9).trace(Level.COPPER, copper).trace(Level.IRON, iron).trace(Level.MANGANESE, manganese),
				Situation.ROUTINE, sequestrant());
		Step step = Objects.requireNonNull(step(plan, Step.Purpose.HOLD_METAL));
		assertThat(step.reason().args().get(0)).isEqualTo(Term.of(worst));
		assertThat(codes(plan.tasks())).containsOnlyOnce(source);
	}

	/** The pair's day in never-mix.csv is for high chlorine, which destroys it: a little goes in once the metal is held, and no grains. */
	@Test
	void sequestrantGoesBeforeTheChlorineThatBringsTheMinimum() {
		Random random = new Random(43);
		Random traces = new Random(44);
		int both = 0;
		for (int n = 0; n < Draws.COUNT; n++) {
			PlanRequest request = Pools.withTraces(Pools.random(random), traces);
			if (!(Planner.plan(request) instanceof Plan plan) || !request.pool().sanitizer().usesChlorine()
					|| step(plan, Step.Purpose.HOLD_METAL) == null) {
				continue;
			}
			List<Step.Purpose> order = plan.steps().stream().map(Step::purpose).toList();
			Step chlorine = step(plan, Step.Purpose.RAISE_FC);
			if (chlorine != null) {
				both++;
				assertThat(order.indexOf(Step.Purpose.RAISE_FC)).as("%s", request).isGreaterThan(order.indexOf(Step.Purpose.HOLD_METAL));
				assertThat(chlorine.product().kind().ingredient()).isNotEqualTo(ActiveIngredient.CALCIUM_HYPOCHLORITE);
				double minimum = Objects.requireNonNull(plan.assessment().fcMinimum());
				assertThat(chlorine.before().value(Level.FC, 0)).isLessThan(minimum);
				assertThat(chlorine.after().value(Level.FC, 0)).as("%s", request)
					.isLessThanOrEqualTo(minimum + 1);
			}
		}
		assertThat(both).isGreaterThan(Draws.COUNT / 40);
	}

	@Test
	void chlorineInRangeWaitsForTheSequestrantAndLowAlkalinityFollows() {
		Plan plan = plan(Pools.balanced().fc(2.5).ph(7.0).ta(50.0).trace(Level.COPPER, 0.6), Situation.ROUTINE, sequestrant());
		assertThat(plan.steps()).extracting(Step::purpose).containsExactly(Step.Purpose.HOLD_METAL);
		assertThat(codes(plan.followUps().stream().map(FollowUpStep::reason).toList())).contains("later.chlorine-after-metal",
				"later.balance-after-sequestrant");
	}

	@Test
	void muchChlorineWaitsForTheSequestrant() {
		Readings.Builder green = Pools.balanced().fc(3.0).cc(0.0);
		assertThat(plan(green.trace(Level.IRON, 0.1), Situation.GREEN_ALGAE_LIGHT).after().value(Level.FC)).isGreaterThan(5);
		Plan plan = plan(green.trace(Level.IRON, 0.5), Situation.GREEN_ALGAE_LIGHT, sequestrant());
		assertThat(plan.after().value(Level.FC)).isLessThanOrEqualTo(4.1);
		assertThat(codes(plan.followUps().stream().map(FollowUpStep::reason).toList())).contains("later.shock-after-metal")
			.doesNotContain("later.hold");
	}

	/** La + PO4 = LaPO4, 1.46 g of lanthanum for each gram (products.csv): half of 1,400 ppb is 0.7 mg/L, 1.022 mg/L of lanthanum. */
	@Test
	void lanthanumByStoichiometryInHalves() {
		Product remover = Product.usual("l", ProductKind.LANTHANUM).withStrength(0.1, StrengthBasis.PURITY);
		Plan plan = plan(Pools.balanced().fc(3.9).phosphate(1500.0), Situation.HIGH_PHOSPHATE, remover);
		Step step = Objects.requireNonNull(step(plan, Step.Purpose.LOWER_PHOSPHATE));
		double litres = GALLONS * 3.785411784;
		assertThat(step.unroundedAmount()).isCloseTo(0.7 * 1.4626 * litres / 1000 / (0.1 * 1.25), within(1.0));
		double measured = Objects.requireNonNull(step.amount()).amount() / Objects.requireNonNull(step.unroundedAmount());
		assertThat(measured).isBetween(0.9, 1.0);
		assertThat(plan.after().value(Level.PHOSPHATE)).isCloseTo(1500 - 700 * measured, within(0.1));
		assertThat(codes(plan.followUps().stream().map(FollowUpStep::reason).toList())).contains("later.lanthanum-filter",
				"later.lanthanum-rest");
	}

	/** Never before chlorine is right, in water that is not clear, beside metal, or at low alkalinity; never without growth that comes back. */
	@ParameterizedTest
	@CsvSource({ "3.9, true, 0, 100, HIGH_PHOSPHATE, true", "1.0, true, 0, 100, HIGH_PHOSPHATE, false",
			"3.9, false, 0, 100, HIGH_PHOSPHATE, false", "3.9, true, 0.5, 100, HIGH_PHOSPHATE, false",
			"3.9, true, 0, 50, HIGH_PHOSPHATE, false",
			"3.9, true, 0, 100, ROUTINE, false", "3.9, true, 0, 100, GREEN_ALGAE_LIGHT, false" })
	void lanthanumOnlyWhereChlorineIsRight(double fc, boolean clear, double iron, double ta, Situation situation, boolean treated) {
		Plan plan = plan(Pools.balanced().fc(fc).ta(ta).drainVisible(clear).phosphate(1500.0).trace(Level.IRON, iron), situation,
				Product.usual("l", ProductKind.LANTHANUM).withLabelPerPpm(10.0));
		assertThat(step(plan, Step.Purpose.LOWER_PHOSPHATE) != null).isEqualTo(treated);
		assertThat(codes(Pools.notes(plan)).contains("note.phosphate-left")).isEqualTo(situation == Situation.ROUTINE);
	}

	/** 10 mg of chlorine a mg of ammonia nitrogen in practice (breakpoint.csv: 8 to 10) on top of the same water without; closed until gone. */
	@Test
	void ammoniaIsAddedToTheDoseAndClosesThePool() {
		Readings.Builder water = Pools.balanced().fc(0.0).cya(0.0);
		Plan without = plan(water.trace(Level.AMMONIA, 0.0), Situation.STABILIZER_GONE);
		Plan with = plan(water.trace(Level.AMMONIA, 0.5), Situation.STABILIZER_GONE);
		// All of it goes in, and what the ammonia takes is not shown as left.
		assertThat(chlorineDosed(with) - chlorineDosed(without)).isBetween(4.8, 5.3);
		assertThat(with.after().value(Level.FC, 0) - without.after().value(Level.FC, 0)).isBetween(-0.2, 0.3);
		assertThat(with.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
		assertThat(codes(with.swim().closedUntil())).contains("swim.ammonia");
		assertThat(codes(without.swim().reasons())).doesNotContain("swim.ammonia");
		assertThat(codes(with.tasks())).contains("work.ammonia-takes").doesNotContain("work.test-ammonia", "work.ammonia-replace");
		assertThat(codes(without.tasks())).contains("work.ammonia-none");
	}

	private static double chlorineDosed(Plan plan) {
		return plan.steps()
			.stream()
			.filter(step -> step.purpose() == Step.Purpose.RAISE_FC)
			.mapToDouble(step -> ProductEffects.concentration(step.product(), Objects.requireNonNull(step.amount()).amount(),
					Objects.requireNonNull(POOL.volume()).litres()))
			.sum();
	}

	/** Whatever else is drawn: no pH up, shock or copper beside metal, no stabilizer beside ammonia, closed with ammonia, and words for all. */
	@Test
	void noPlanMakesMetalFallOutOrFeedsAmmonia() {
		Random random = new Random(41);
		Random traces = new Random(42);
		int held = 0;
		int ammoniaPools = 0;
		for (int i = 0; i < Draws.COUNT / 2; i++) {
			PlanRequest request = Pools.withTraces(Pools.random(random), traces);
			Readings readings = request.readings();
			Double ammonia = readings.value(Level.AMMONIA);
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			boolean metal = Objects.requireNonNull(readings.value(Level.COPPER)) > 0.3 + 1e-9
					|| Objects.requireNonNull(readings.value(Level.IRON)) > 0.3 + 1e-9
					|| Objects.requireNonNull(readings.value(Level.MANGANESE)) > 0.05 + 1e-9;
			if (metal) {
				boolean lifted = step(plan, Step.Purpose.RAISE_PH) != null || step(plan, Step.Purpose.RAISE_TA) != null;
				boolean corrodes = Objects.requireNonNull(readings.ph()) < 7.0 || plan.replacement() != null
						|| request.situation() == Situation.NEW_PLASTER || request.situation() == Situation.LEAK_SUSPECTED;
				assertThat(lifted && !corrodes).as("pH up: %s", readings).isFalse();
				assertThat(plan.steps()).as("%s", readings)
					.noneMatch(step -> step.product().kind().ingredient() == ActiveIngredient.COPPER_ALGAECIDE);
				held += (step(plan, Step.Purpose.HOLD_METAL) != null || plan.followUps().stream()
					.anyMatch(later -> later.product() != null && later.product().kind() == ProductKind.SEQUESTRANT)) ? 1 : 0;
			}
			if (ammonia != null && ammonia > 0.2 && request.pool().sanitizer().usesChlorine()) {
				ammoniaPools++;
				assertThat(plan.swim().state()).as("%s", readings).isEqualTo(SwimReadiness.State.CLOSED);
				assertThat(step(plan, Step.Purpose.RAISE_CYA)).isNull();
				assertThat(step(plan, Step.Purpose.FEED)).isNull();
			}
		}
		assertThat(held).as("plans with a sequestrant").isGreaterThan(Draws.COUNT / 20);
		assertThat(ammoniaPools).isGreaterThan(Draws.COUNT / 20);
	}

}
