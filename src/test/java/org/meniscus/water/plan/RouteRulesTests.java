package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** What somebody who has kept pools for years looks for in a plan: what it says goes with this pool and with what it does. */
class RouteRulesTests {

	private static final Set<Step.Purpose> BALANCING = Set.of(Step.Purpose.OXIDIZE, Step.Purpose.RAISE_CYA, Step.Purpose.RAISE_TA,
			Step.Purpose.RAISE_CH);

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

	private static List<String> later(Plan plan) {
		return plan.followUps().stream().map(step -> step.reason().code()).toList();
	}

	private static Stream<PlanRequest> drawn(int seed, int share) {
		Random random = new Random(seed);
		return Stream.generate(() -> Pools.random(random)).limit(Draws.COUNT / share);
	}

	private static boolean goesIn(Plan plan, Step.Purpose purpose) {
		return plan.steps().stream().anyMatch(step -> step.purpose() == purpose);
	}

	/** "The rest" of a product is put off only where some of it went in. */
	@Test
	void theRestFollowsAPart() {
		int rests = 0;
		for (PlanRequest request : drawn(71, 1).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				for (Plan.FollowUpStep step : plan.followUps()) {
					if (step.reason().code().equals("later.rest-of-balance")) {
						assertThat(plan.steps()).as(request.toString()).anyMatch(today -> today.product().equals(step.product()));
						rests++;
					}
				}
				if (codes(Pools.notes(plan)).contains("note.balance-another-day")) {
					assertThat(BALANCING).as(request.toString()).noneMatch(purpose -> goesIn(plan, purpose));
				}
			}
		}
		assertThat(rests).isPositive();
	}

	/** Chlorine that a cell or feeder brought was nobody's mistake, and tablets eat alkalinity only where there are some. */
	@Test
	void whatIsSaidFitsWhatFeedsThePool() {
		for (PlanRequest request : drawn(72, 1).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				boolean fed = request.pool().sanitizer() != Sanitizer.CHLORINE_BY_HAND;
				List<String> work = codes(plan.tasks());
				assertThat(work.contains("work.who-added") && fed).as(request.toString()).isFalse();
				if (!request.pool().sanitizer().usesTablets()) {
					assertThat(codes(plan.cautions())).as(request.toString()).doesNotContain("not.more-tablets", "not.stabilized-by-hand");
				}
				if (codes(plan.cautions()).contains("not.stabilized-by-hand")) {
					assertThat(work).as("the feeder runs on").doesNotContain("work.feeder-empty", "work.floater-empty",
							"work.tablets-out-ta");
				}
			}
		}
	}

	/** Nobody asks a client to handle dry chlorine, and ascorbic acid is no mistake on a stain. */
	@Test
	void clientsPourLiquidsOnly() {
		for (PlanRequest request : drawn(82, 1).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				for (Step step : plan.steps()) {
					boolean asked = step.instructions().stream().flatMap(reason -> reason.args().stream())
						.anyMatch(term -> term instanceof Term.Word word && word.key().endsWith(".or-client"));
					assertThat(asked && step.product().kind().form() != PhysicalForm.LIQUID).as(request.toString()).isFalse();
				}
				if (request.situation().metal()) {
					assertThat(codes(plan.cautions())).doesNotContain("not.reducer-by-guess");
				}
			}
		}
	}

	/** A spa is wiped, not brushed, and nothing is poured around it. */
	@Test
	void aSpaIsNoPool() {
		for (PlanRequest request : drawn(73, 1).filter(request -> request.pool().body() == BodyOfWater.SPA).toList()) {
			PlanResult result = Planner.plan(request);
			List<Reason> work = (result instanceof Plan plan) ? plan.tasks() : ((PlanResult.PlanRefusal) result).tasks();
			assertThat(codes(work)).as(request.toString()).doesNotContain("work.clean", "work.brush");
			if (result instanceof Plan plan) {
				plan.steps().forEach(step -> assertThat(codes(step.instructions())).doesNotContain("apply.pre-dissolve"));
			}
		}
	}

	/** On vinyl, fiberglass and paint no tablet in a floater: surface table of the trade facts, 1.5. The plan says what to do with it. */
	@Test
	void aFloaterStaysOutWhereTabletsMarkTheSurface() {
		for (PlanRequest request : drawn(74, 1).filter(request -> request.pool().sanitizer() == Sanitizer.FLOATER).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				boolean marks = ProductKind.TRICHLOR_TAB.avoid().contains(request.pool().surface());
				assertThat(codes(plan.tasks()).contains("work.floater-surface")).as(request.toString()).isEqualTo(marks);
				assertThat(marks && goesIn(plan, Step.Purpose.FEED)).isFalse();
				if (marks) {
					assertThat(codes(plan.tasks())).doesNotContain("work.floater-empty", "work.no-tablets", "work.tablets-out-ta");
				}
			}
		}
	}

	/** Under a liner, in fiberglass, and in heat on plaster no more than a third of the water goes at once. */
	@Test
	void largeDrainsGoInPartsWhereTheShellSuffers() {
		Random random = new Random(75);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			Surface surface = Surface.values()[random.nextInt(Surface.values().length)];
			double celsius = 18 + 16 * random.nextDouble();
			Readings.Builder water = Pools.balanced().cya(Pools.round(60 + 140 * random.nextDouble(), 5)).celsius(celsius);
			Plan plan = Pools.plan(Pools.of(15_000, BodyOfWater.POOL, surface, false, Sanitizer.CHLORINE_BY_HAND), water,
					Situation.ROUTINE);
			WaterReplacement replacement = plan.replacement();
			if (replacement == null) {
				continue;
			}
			boolean suffers = !surface.cementBound() || celsius >= (85 - 32) / 1.8;
			assertThat(replacement.inParts()).as("%s %.1f %.2f", surface, celsius, replacement.share())
				.isEqualTo(suffers && replacement.share() > 1.0 / 3 + 1e-9);
			if (replacement.inParts()) {
				assertThat(replacement.firstShare()).isLessThanOrEqualTo(1.0 / 3);
				assertThat(later(plan).stream().filter("later.drain-part"::equals)).hasSize(replacement.drainCount() - 1);
			}
		}
	}

	/** Warm water uses up more than cold, bare sun more than shaded water: nothing else is known of a new pool. */
	@Test
	void whatANewPoolUsesFollowsTemperatureAndStabilizer() {
		Random random = new Random(76);
		for (int n = 0; n < Draws.COUNT / 20; n++) {
			double cya = 10 + 60 * random.nextDouble();
			double cold = use(12.0 + 4 * random.nextDouble(), cya);
			double warm = use(27.0 + 5 * random.nextDouble(), cya);
			assertThat(warm).as("CYA %.0f", cya).isGreaterThan(1.5 * cold);
			assertThat(use(28.0, 0)).isGreaterThan(2 * use(28.0, cya + 15));
		}
	}

	private static double use(double celsius, double cya) {
		return Pools.request(Pools.plaster(15_000), Pools.balanced().celsius(celsius).cya(cya).build(), Situation.ROUTINE)
			.forecast()
			.demand()
			.use(3)
			.middle();
	}

	/** On biguanide acid, alkali, bicarbonate and calcium only: rows biguanide of the never-mix table. */
	@Test
	void onBiguanideThePlanOnlyBalances() {
		Random random = new Random(77);
		Set<Step.Purpose> balance = Set.of(Step.Purpose.LOWER_PH, Step.Purpose.RAISE_PH, Step.Purpose.RAISE_TA, Step.Purpose.RAISE_CH);
		int steps = 0;
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			PlanRequest drawn = Pools.withTraces(Pools.random(random), random);
			PoolFacts pool = Pools.of(8000 + 20_000 * random.nextDouble(), BodyOfWater.POOL, drawn.pool().surface(), drawn.pool().indoor(),
					Sanitizer.BIGUANIDE);
			PlanRequest request = new PlanRequest(pool, drawn.readings(), Situation.ROUTINE, Pools.truck(), drawn.policy(), 7,
					drawn.units());
			if (Planner.plan(request) instanceof Plan plan) {
				assertThat(plan.steps()).as(request.toString()).allMatch(step -> balance.contains(step.purpose()));
				assertThat(plan.missing()).allMatch(missing -> balance.contains(missing.purpose()));
				assertThat(codes(plan.cautions())).contains("not.biguanide");
				assertThat(plan.outcome().holdProbability()).isNull();
				steps += plan.steps().size();
			}
		}
		assertThat(steps).isPositive();
	}

	/** The amount named brings today's water to the FC that the health page names; nothing with stabilizer, nothing on a doubtful volume. */
	@Test
	void incidentsNameTheChlorineThatReachesTheLevel() {
		Random random = new Random(78);
		int named = 0;
		for (int n = 0; n < Draws.COUNT; n++) {
			PlanRequest drawn = Pools.random(random);
			Situation incident = List.of(Situation.CONTAMINATION, Situation.DIARRHOEA, Situation.DEAD_ANIMAL).get(random.nextInt(3));
			PlanRequest request = new PlanRequest(drawn.pool(), drawn.readings(), incident, drawn.products(), drawn.policy(),
					drawn.daysToNextVisit(), null, drawn.units());
			List<Reason> tasks = ((PlanResult.PlanRefusal) Planner.plan(request)).tasks();
			for (Reason dose : tasks.stream().filter(task -> task.code().matches("work.incident-(dose|bring)")).toList()) {
				assertThat(request.pool().sanitizer().usesChlorine()).isTrue();
				double from = ((Term.Value) dose.args().get(2)).value();
				double to = ((Term.Value) dose.args().get(3)).value();
				double amount = ((Term.Amount) dose.args().get(0)).amount().amount();
				assertThat(to).isIn(2.0, 4.0, 20.0);
				assertThat(from).isLessThanOrEqualTo(request.readings().fc() + 1e-9);
				String kind = ((Term.Word) dose.args().get(1)).key();
				Product product = drawn.products()
					.stream()
					.filter(along -> Wording.kindKey(along.kind()).equals(kind) && along.onTruck())
					.findFirst()
					.orElse(Product.usual("usual", ProductKind.LIQUID_CHLORINE_125));
				assertThat(product.kind().ingredient().stabilizedChlorine()).isFalse();
				double brought = ProductEffects.concentration(product, amount, request.pool().volume().litres());
				assertThat(brought).as(request.toString()).isGreaterThanOrEqualTo(to - from - 1e-6).isLessThan(1.3 * (to - from) + 1);
				named++;
			}
		}
		assertThat(named).isPositive();
	}

	/** Nothing that clouds or cannot be read goes in on closing day, and the lines are blown out only once chlorine and pH are back. */
	@Test
	void closingWaitsForChlorineAndPh() {
		Random random = new Random(79);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			double fc = Pools.round(25 * random.nextDouble(), 0.5);
			Readings.Builder water = Pools.balanced().fc(fc).ph(Pools.round(7.0 + 1.6 * random.nextDouble(), 0.1))
				.ch(Pools.round(60 + 300 * random.nextDouble(), 10)).cya(Pools.round(20 + 50 * random.nextDouble(), 5))
				.celsius(6 + 14 * random.nextDouble());
			Plan plan = Pools.plan(Pools.plaster(15_000), water, Situation.CLOSING);
			if (fc > 10) {
				assertThat(plan.steps()).isEmpty();
				assertThat(later(plan)).contains("later.closing-when-ph-reads").doesNotContain("later.closing-lines");
				continue;
			}
			assertThat(goesIn(plan, Step.Purpose.RAISE_CH)).isFalse();
			double lines = hours(plan, "later.closing-lines");
			assertThat(lines).isGreaterThan(hours(plan, "later.closing-algaecide"));
			PlanRequest request = Pools.request(Pools.plaster(15_000), water.build(), Situation.CLOSING);
			double left = request.forecast().demand().expected(plan.after().value(Level.FC, 0), Math.floor(lines / 24));
			assertThat(left <= 4 + 1e-9 || lines >= 14 * 24).as("FC %.1f after %.0f hours", left, lines).isTrue();
		}
	}

	private static double hours(Plan plan, String code) {
		return plan.followUps().stream().filter(step -> step.reason().code().equals(code)).mapToDouble(Plan.FollowUpStep::afterHours).sum();
	}

	/** What the plan has brought back each day is counted in what it expects, and what ammonia takes is not. */
	@Test
	void theForecastCountsWhatThePlanAsksForAndWhatAmmoniaTakes() {
		Random random = new Random(80);
		for (int n = 0; n < Draws.COUNT / 8; n++) {
			double cya = Pools.round(20 + 40 * random.nextDouble(), 5);
			PlanRequest request = new PlanRequest(Pools.plaster(15_000),
					Pools.balanced().fc(1.0).cya(cya).drainVisible(true).build(), Situation.GREEN_ALGAE_LIGHT, Pools.truck(),
					TreatmentPolicy.defaults(), 2 + random.nextInt(3), UnitSystem.US);
			Plan plan = (Plan) Planner.plan(request);
			double alone = request.forecast().demand().expected(plan.after().value(Level.FC, 0), request.daysToNextVisit());
			assertThat(plan.outcome().nextVisit().get(Level.FC).middle()).isGreaterThan(alone);
			double ammonia = 0.5 + 2 * random.nextDouble();
			Plan beside = Pools.plan(Pools.plaster(15_000), Pools.balanced().fc(0.5).cya(cya).trace(Level.AMMONIA, ammonia),
					Situation.ROUTINE);
			double dosed = 0.5 + beside.steps()
				.stream()
				.filter(step -> step.purpose() == Step.Purpose.RAISE_FC)
				.mapToDouble(step -> ProductEffects.concentration(step.product(), step.amount().amount(),
						Volume.ofUsGallons(15_000).litres()))
				.sum();
			assertThat(beside.outcome().justAfter().get(Level.FC).middle()).as("%.1f ppm of ammonia", ammonia)
				.isLessThanOrEqualTo(Math.max(0, dosed - 10 * ammonia) + 0.01);
		}
	}

	/** Within what a cell's water may have of stabilizer none of it is replaced: with a ceiling of 4 ppm up to CYA 80 (trade table). */
	@Test
	void aSaltPoolKeepsItsStabilizer() {
		for (double cya = 50; cya <= 80; cya += 5) {
			Plan plan = Pools.plan(Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL),
					Pools.balanced().fc(4.0).cya(cya).salt(3200.0), Situation.ROUTINE);
			assertThat(plan.replacement()).as("CYA %.0f", cya).isNull();
			assertThat(codes(Pools.notes(plan))).doesNotContain("note.no-room");
		}
	}

	/** Calcium hypochlorite above the pH of its label only where no other chlorine is along. */
	@Test
	void calciumHypochloriteGoesIntoWaterAtThePhOfItsLabel() {
		for (PlanRequest request : drawn(81, 1).toList()) {
			if (Planner.plan(request) instanceof Plan plan) {
				plan.steps()
					.stream()
					.filter(step -> step.product().kind().ingredient() == ActiveIngredient.CALCIUM_HYPOCHLORITE
							&& step.before().value(Level.PH, 7) > 7.45 && step.purpose() == Step.Purpose.RAISE_FC
							&& step.product().preference() == ProductPreference.NONE)
					.forEach(step -> assertThat(step.alternatives()).as(request.toString())
						.noneMatch(other -> other.cost() != null
								&& other.product().kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE
								&& other.product().kind() != ProductKind.HOUSEHOLD_BLEACH
								&& request.pool().sanitizer() != Sanitizer.SALT_CELL));
			}
		}
	}

}
