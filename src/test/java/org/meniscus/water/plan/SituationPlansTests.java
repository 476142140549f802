package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.UnitSystem;

/** Plans that go on over several days, and what waits for another. Days and aims are common practice, no source, unless named. */
class SituationPlansTests {

	private static final PoolFacts PLASTER = Pools.plaster(15_000);

	private static List<FollowUpStep> later(Plan plan, String code) {
		return plan.followUps().stream().filter(later -> later.reason().code().equals(code)).toList();
	}

	private static double level(Reason reason) {
		return ((Term.Value) reason.args().get(0)).value();
	}

	@ParameterizedTest
	@EnumSource(names = { "GREEN_ALGAE_LIGHT", "GREEN_ALGAE_HEAVY", "MUSTARD_ALGAE", "BLACK_ALGAE", "PINK_SLIME" })
	void chlorineIsHeldDayByDayAtTheActiveChlorineOfTheTreatmentUntilTheNightTestPasses(Situation growth) {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.3).ph(7.3), growth);
		List<FollowUpStep> holding = later(plan, "later.hold");
		assertThat(holding).hasSizeGreaterThanOrEqualTo(2);
		for (int day = 0; day < holding.size(); day++) {
			assertThat(holding.get(day).afterHours()).isEqualTo(24.0 * (day + 1));
			assertThat(holding.get(day).product()).isNotNull().matches(product -> product.kind().ingredient().chlorine());
			assertThat(level(holding.get(day).reason())).isCloseTo(plan.after().value(Level.FC, 0), within(0.3));
		}
		FollowUpStep night = later(plan, "later.overnight").get(0);
		FollowUpStep end = later(plan, "later.end-of-holding").get(0);
		assertThat(night.afterHours()).isLessThan(holding.get(0).afterHours());
		assertThat(end.afterHours()).isGreaterThan(holding.get(holding.size() - 1).afterHours());
	}

	@Test
	void theHeldLevelFollowsStabilizerAndStaysUnderTheCeilingEvenWhereTheFirstDoseIsCapped() {
		// 4 ppm a step in a small pool: the level to be held is that of the treatment and not of the first step.
		PoolFacts small = Pools.of(1_500, BodyOfWater.POOL, Surface.SOFT_SIDED, false, Sanitizer.CHLORINE_BY_HAND);
		Plan capped = Pools.plan(small, Pools.balanced().fc(0.0).ph(7.3).cya(30.0), Situation.GREEN_ALGAE_LIGHT);
		assertThat(capped.after().value(Level.FC, 0)).isLessThan(5);
		double held = level(later(capped, "later.hold").get(0).reason());
		// 7 ppm at CYA 30 and pH 7.5, the label's superchlorination level: Alden Leeds technical document 3, table situations.csv.
		double asked = Speciation.of(PoolWater.of(PLASTER, Pools.balanced().fc(7.0).ph(7.5).ta(100.0).ch(250.0).cya(30.0).build()).water())
			.hocl();
		double given = Speciation.of(PoolWater.of(small, Pools.balanced().fc(held).ph(7.3).cya(30.0).build()).water())
			.hocl();
		assertThat(given).isCloseTo(asked, within(0.01 * asked));
		// Under a ceiling of 10 ppm CYA 100 may stay.
		PlanRequest stabilized = new PlanRequest(PLASTER, Pools.balanced().fc(0.0).ph(7.5).cya(100.0).build(), Situation.MUSTARD_ALGAE,
				List.of(Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125)), TreatmentPolicy.withCeiling(10), 7, UnitSystem.US);
		double much = level(later((Plan) Planner.plan(stabilized), "later.hold").get(0).reason());
		assertThat(much).isEqualTo(20);
	}

	@Test
	void blackAlgaeAreFollowedForWeeks() {
		assertThat(later(Pools.plan(PLASTER, Pools.balanced(), Situation.BLACK_ALGAE), "later.black-weekly"))
			.extracting(FollowUpStep::afterHours)
			.containsExactly(7 * 24.0, 14 * 24.0, 21 * 24.0);
	}

	@ParameterizedTest
	@CsvSource({ "7, 12", "10, 12", "14, 12", "17, 12" })
	void theNextMorningIsOneWheneverInWorkingHoursThePlanIsMade(int hour, int noon) {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(2.0).cc(0.8), Situation.HIGH_COMBINED_CHLORINE);
		double hours = hour + later(plan, "later.test-morning").get(0).afterHours();
		assertThat(hours).as("hours since midnight").isBetween(24.0, 24.0 + noon);
	}

	@Test
	void combinedChlorineIsToldBothWaysByStoichiometry() {
		// 1 ppm CC that is monochloramine takes half a mole of oxidizer a mole: 152.2/(2 x 70.9) = 1.07 mg of KHSO5, atomic masses; on top of
		// the usual dose of labels, 1 lb per 10,000 gal: table products.csv.
		Plan chlorine = Pools.plan(PLASTER, Pools.balanced().fc(2.0).cc(1.0), Situation.HIGH_COMBINED_CHLORINE);
		Reason instead = chlorine.tasks().stream().filter(work -> work.code().equals("work.oxidizer-instead")).findFirst().orElseThrow();
		double grams = ((Term.Amount) instead.args().get(0)).amount().amount();
		double pure = 152.2 / (2 * 70.9) * 15_000 * 3.785411784 / 1000;
		assertThat(grams).isCloseTo(pure / 0.428 + 1.5 * 453.59, within(0.04 * grams));
		assertThat(chlorine.after().value(Level.FC, 0)).isGreaterThan(5);
		Plan oxidizer = (Plan) Planner
			.plan(new PlanRequest(PLASTER, Pools.balanced().fc(4.0).cc(1.0).build(), Situation.HIGH_COMBINED_CHLORINE,
					Pools.truck(), TreatmentPolicy.defaults(), 7, 4.0, UnitSystem.US));
		assertThat(oxidizer.steps()).extracting(step -> step.product().kind().ingredient())
			.startsWith(ActiveIngredient.MONOPERSULFATE)
			.noneMatch(ActiveIngredient::chlorine);
		assertThat(oxidizer.tasks()).extracting(Reason::code).contains("work.chlorine-instead");
	}

	@Test
	void theWaterOfASpaIsChangedAfterGallonsOverThreeAndBathers() {
		// 400 gal / 3 / 2 bathers a day = 66 days: table situations.csv, row spa, common practice.
		PoolFacts spa = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);
		Plan plan = Pools.plan(spa, Pools.balanced().fc(4.0).ch(180.0).cya(20.0).celsius(38.0), Situation.ROUTINE);
		Reason change = plan.tasks().stream().filter(work -> work.code().equals("work.spa-change")).findFirst().orElseThrow();
		assertThat(change.args()).containsExactly(new Term.Days(133), new Term.Days(66), new Term.Days(33));
	}

	/** Share (now - target)/(now - fill), filling while draining -ln of what stays: arithmetic of perfect mixing. */
	@ParameterizedTest
	@CsvSource({ "CH, 900, 400, 150", "CH, 1200, 400, 0", "SALT, 6000, 3400, 400", "TDS, 3000, 1900, 400" })
	void waterIsReplacedInABatchOrRunThroughWithTheFillWatersOwnLevels(Level level, double now, double target, double fill) {
		Sanitizer sanitizer = (level == Level.SALT) ? Sanitizer.SALT_CELL : Sanitizer.CHLORINE_BY_HAND;
		PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer)
			.withFill(new FillWater(7.8, 100.0, (level == Level.CH) ? fill : 100.0, (level == Level.CH) ? 300.0 : fill));
		Readings.Builder readings = Pools.balanced().fc(4.0);
		switch (level) {
			case CH -> readings.ch(now);
			case SALT -> readings.salt(now).cya(70.0);
			// Solids count from 1500 above the fill water on, and only where something is wrong with the water.
			default -> readings.tds(now).cc(1.0);
		}
		Plan plan = Pools.plan(pool, readings, Situation.ROUTINE);
		WaterReplacement replacement = plan.replacement();
		assertThat(replacement).isNotNull();
		double share = replacement.share();
		double left = now + share * (fill - now);
		if (level == Level.CH) {
			// From halfway to the acceptable end, 700, to the ideal range: how far is the season's to decide.
			assertThat(left).isBetween(target - 1e-9, 700 + 1e-9);
		}
		else {
			assertThat(left).isCloseTo(target, within(1e-9));
		}
		assertThat(replacement.flowThroughVolumes()).isCloseTo(-Math.log((left - fill) / (now - fill)), within(1e-9));
		assertThat(replacement.litres()).isCloseTo(share * 15_000 * 3.785411784, within(1e-6));
		assertThat(replacement.after().value(level, 0)).isCloseTo(left, within(0.01 * left));
		assertThat(Math.pow(2.0 / 3, replacement.drainCount())).isLessThanOrEqualTo(1 - share + 1e-9);
		assertThat(later(plan, "later.drain-part")).hasSize(replacement.drainCount() - 1);
		assertThat(replacement.cautions()).extracting(Reason::code).contains("drain.groundwater", "drain.power-off", "drain.where-to",
				"drain.test-after");
	}

	/** Start-up value + 1500, ANSI/APSP-11, from memory; alone they are no reason. */
	@Test
	void dissolvedSolidsAloneDrainNoPool() {
		for (double solids = 500; solids < 6000; solids += 250) {
			Plan plan = Pools.plan(PLASTER, Pools.balanced().tds(solids), Situation.ROUTINE);
			assertThat(plan.replacement()).isNull();
			assertThat(Pools.notes(plan).stream().anyMatch(note -> note.code().equals("note.solids-alone"))).isEqualTo(solids > 1800);
			assertThat(Pools.plan(PLASTER, Pools.balanced().tds(solids), Situation.FOAM).replacement() != null).isEqualTo(solids > 1800);
		}
	}

	/** CDC, MMWR 50(20), 2001; operator handbook of 2017; Shields et al. 2008: CT 15,300 / 20 / 60 = 12.75 h; CDC 2018 (28 h), from memory. */
	@ParameterizedTest
	@CsvSource({ "CONTAMINATION, 0, 2, 0.5", "CONTAMINATION, 40, 4, 0.667", "DEAD_ANIMAL, 40, 4, 0.667", "DIARRHOEA, 0, 20, 12.75",
			"DIARRHOEA, 10, 20, 28", "DIARRHOEA, 60, 20, 28" })
	void incidentsAreWorkedOutAndClosedUntilDone(Situation incident, double cya, double fc, double hours) {
		PlanResult refused = Planner.plan(Pools.request(PLASTER, Pools.balanced().cya(cya).build(), incident));
		assertThat(refused).isInstanceOf(PlanRefusal.class);
		List<Reason> tasks = ((PlanRefusal) refused).tasks();
		Reason hold = tasks.stream().filter(task -> task.code().equals("work.incident-hold")).findFirst().orElseThrow();
		assertThat(level(hold)).isEqualTo(fc);
		assertThat(((Term.Hours) hold.args().get(1)).hours()).isCloseTo(hours, within(0.001));
		assertThat(tasks).extracting(Reason::code).contains("work.contamination-health-page");
		assertThat(tasks.stream().anyMatch(task -> task.code().equals("work.incident-dilute")))
			.isEqualTo(incident == Situation.DIARRHOEA && cya > 15);
		assertThat(refused.swim().needsTreatment()).isTrue();
	}

	/** CDC, from memory: the times hold for 77 °F (25 °C) or warmer; little water is drained instead. */
	@Test
	void incidentsNameAcidTheWayOutOfColdWaterAndTheDrainOfASpa() {
		Random random = new Random(116);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			boolean spa = random.nextInt(3) == 0;
			PoolFacts pool = Pools.of(spa ? 400 : 15_000, spa ? BodyOfWater.SPA : BodyOfWater.POOL, Surface.FIBREGLASS, false,
					Sanitizer.CHLORINE_BY_HAND);
			double celsius = Pools.round(12 + 26 * random.nextDouble(), 0.5);
			double ph = Pools.round(7.1 + 0.9 * random.nextDouble(), 0.1);
			Readings readings = Pools.balanced().fc(1.0).ph(ph).cya(10.0).celsius(celsius).build();
			Situation incident = List.of(Situation.CONTAMINATION, Situation.DIARRHOEA, Situation.DEAD_ANIMAL).get(random.nextInt(3));
			Product chlorine = Product.usual("c", random.nextBoolean() ? ProductKind.CAL_HYPO_65 : ProductKind.LIQUID_CHLORINE_125);
			Product acid = Product.usual("a", ProductKind.MURIATIC_3145);
			PlanRequest request = new PlanRequest(pool, readings, incident, List.of(chlorine, acid), TreatmentPolicy.defaults(), 7,
					UnitSystem.US);
			List<Reason> tasks = ((PlanRefusal) Planner.plan(request)).tasks();
			List<String> codes = tasks.stream().map(Reason::code).toList();
			boolean drained = spa && incident == Situation.DIARRHOEA;
			assertThat(codes.contains("work.incident-drain-spa")).isEqualTo(drained);
			assertThat(codes.contains("work.incident-hold")).isEqualTo(!drained);
			assertThat(codes.contains("work.incident-cold")).as("%s", celsius).isEqualTo(!drained && celsius < 25);
			assertThat(codes.contains("work.incident-dose-spa")).isEqualTo(spa && !drained);
			assertThat(codes.contains("work.incident-dose")).isEqualTo(!spa && chlorine.kind() == ProductKind.LIQUID_CHLORINE_125);
			assertThat(codes.contains("work.incident-dose-dry")).isEqualTo(!spa && chlorine.kind() == ProductKind.CAL_HYPO_65);
			assertThat(codes.contains("work.incident-acid")).as("pH %s", ph).isEqualTo(!drained && ph > 7.5);
			tasks.stream().filter(task -> task.code().equals("work.incident-acid")).forEach(task -> {
				double amount = ((Term.Amount) task.args().get(0)).amount().amount();
				PoolWater after = PoolWater.of(pool, readings)
					.after(List.of(new RecordedDose(acid.kind(), acid.strength(), acid.basis(), amount)), pool.volume().litres());
				assertThat(after.water().ph()).isBetween(7.3, 7.5 + 1e-6);
			});
		}
	}

	@Test
	void aSpaIsEmptiedAndNotDrainedInParts() {
		PoolFacts spa = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);
		WaterReplacement replacement = Pools.plan(spa, Pools.balanced().fc(4.0).cya(80.0).celsius(38.0), Situation.ROUTINE).replacement();
		assertThat(replacement).isNotNull();
		assertThat(replacement.share()).isEqualTo(1);
		assertThat(replacement.after().value(Level.CYA, 9)).isZero();
		assertThat(replacement.cautions()).extracting(Reason::code).contains("drain.spa").doesNotContain("drain.in-parts",
				"drain.fibreglass");
	}

	@Test
	void noOxidizerGoesOntoAMetalStainHoweverLowChlorineIs() {
		for (Situation stain : List.of(Situation.STAINS_IRON, Situation.STAINS_MANGANESE)) {
			Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.0).cc(1.0), stain);
			assertThat(plan.steps()).noneMatch(step -> step.product().kind().ingredient().chlorine()
					|| step.product().kind().ingredient() == ActiveIngredient.MONOPERSULFATE);
			assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.CLOSED);
			assertThat(later(plan, "later.sequestrant").get(0).afterHours() - later(plan, "later.ascorbic").get(0).afterHours())
				.isGreaterThanOrEqualTo(24);
			assertThat(later(plan, "later.chlorine-back").get(0).afterHours())
				.isGreaterThan(later(plan, "later.sequestrant").get(0).afterHours());
		}
	}

	@Test
	void goneStabilizerWaitsUntilChlorineHolds() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.0).ph(7.3).cya(0.0).ta(60.0), Situation.STABILIZER_GONE);
		assertThat(plan.steps()).extracting(Step::purpose).containsExactly(Step.Purpose.RAISE_FC);
		assertThat(later(plan, "later.stabilizer-back").get(0).afterHours())
			.isGreaterThan(later(plan, "later.end-of-holding").get(0).afterHours());
	}

	@Test
	void onSuspicionOfALeakOnlyChlorineAndPhAreDosed() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.5).ph(8.2).ch(100.0).cya(0.0).ta(70.0), Situation.LEAK_SUSPECTED);
		assertThat(plan.steps()).extracting(Step::purpose).containsExactly(Step.Purpose.LOWER_PH, Step.Purpose.RAISE_FC);
	}

	@Test
	void newPlasterGetsAcidAboveItsIdealPhAndNoCalciumHypochlorite() {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.5).ph(7.8).ch(300.0), Situation.NEW_PLASTER);
		assertThat(plan.steps()).extracting(Step::purpose).containsExactly(Step.Purpose.LOWER_PH, Step.Purpose.RAISE_FC);
		assertThat(plan.steps()).noneMatch(step -> step.product().kind().ingredient() == ActiveIngredient.CALCIUM_HYPOCHLORITE);
		assertThat(plan.steps().get(1).alternatives()).anySatisfy(other -> {
			assertThat(other.product().kind().ingredient()).isEqualTo(ActiveIngredient.CALCIUM_HYPOCHLORITE);
			assertThat(other.reason().code()).isEqualTo("not.new-plaster");
		});
	}

	@Test
	void whatIsBannedGoesIntoNoPlanAndEverythingThatIsNotToBeDoneIsTold() {
		Random random = new Random(31);
		int banned = 0;
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest request = Pools.random(random);
			if (Planner.plan(request) instanceof Plan plan) {
				Contraindications contraindications = Contraindications.of(request, plan.assessment(), null);
				for (Step step : plan.steps()) {
					ActiveIngredient ingredient = step.product().kind().ingredient();
					// What gives way does so only for the chlorine of a pool below its minimum, and the plan says so.
					boolean yields = contraindications.yields(ingredient) && step.choiceReason().code().equals("choice.last-resort");
					assertThat(yields || contraindications.reasonAgainst(ingredient) == null).as(request.toString()).isTrue();
				}
				for (ActiveIngredient ingredient : ActiveIngredient.values()) {
					Reason reason = contraindications.reasonAgainst(ingredient);
					if (reason != null && plan.steps()
						.stream()
						.noneMatch(step -> reason.equals(contraindications.reasonAgainst(step.product().kind().ingredient())))) {
						assertThat(plan.cautions()).contains(reason);
						banned++;
					}
				}
				assertThat(plan.followUps()).extracting(FollowUpStep::afterHours).isSorted();
			}
		}
		assertThat(banned).isGreaterThan(Draws.COUNT / 3);
	}

	@ParameterizedTest
	@EnumSource
	void onlyWhatCanBeFoundAtAPoolIsOffered(Situation situation) {
		PoolFacts vinyl = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.BIGUANIDE);
		boolean rare = situation == Situation.CELL_START || situation == Situation.NEW_PLASTER || situation == Situation.STABILIZER_GONE;
		assertThat(situation.fits(vinyl)).isEqualTo(!rare);
		PoolFacts salt = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		assertThat(situation.fits(salt)).isTrue();
	}

	/** Never-mix table, row sodium_hypochlorite and sequestrant; row stain_copper: metals fall out at a high pH and where they are oxidized. */
	@ParameterizedTest
	@EnumSource(names = { "STAINS_IRON", "STAINS_COPPER", "STAINS_MANGANESE" })
	void metalsStayDissolvedAtTheAcidEndWithoutShockUntilTheSequestrantIsIn(Situation stain) {
		Random random = new Random(47);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			PlanRequest drawn = Pools.random(random);
			PlanRequest request = new PlanRequest(drawn.pool(), drawn.readings(), stain, drawn.products(), drawn.policy(),
					drawn.daysToNextVisit(), drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(), drawn.forecast());
			if (!(Planner.plan(request) instanceof Plan plan)) {
				continue;
			}
			double ph = plan.before().value(Level.PH, 0);
			assertThat(plan.steps()).noneMatch(step -> step.purpose() == Step.Purpose.OXIDIZE);
			if (ph >= 7.0) {
				assertThat(plan.steps()).as(request.toString()).noneMatch(step -> step.purpose() == Step.Purpose.RAISE_PH);
			}
			// No more than holds until the next visit, within what people may swim in at some time (model code: 10 ppm, from memory).
			assertThat(plan.after().value(Level.FC, 0)).isLessThanOrEqualTo(Math.max(10, plan.before().value(Level.FC, 0)) + 1e-9);
		}
		// Vinyl, so that the index leaves room for acid.
		PoolFacts vinyl = Pools.of(15_000, BodyOfWater.POOL, Surface.VINYL, false, Sanitizer.CHLORINE_BY_HAND);
		assertThat(Pools.plan(vinyl, Pools.balanced().ph(7.7).fc(3.0), stain).after().value(Level.PH, 0)).isBetween(7.15, 7.35);
		if (stain == Situation.STAINS_COPPER) {
			assertThat(Pools.plan(PLASTER, Pools.balanced().fc(0.5).ph(7.2), stain).steps()).extracting(Step::purpose)
				.containsExactly(Step.Purpose.HOLD_METAL, Step.Purpose.RAISE_FC);
			assertThat(Pools.plan(PLASTER, Pools.balanced().fc(2.5).ph(7.2), stain).steps()).extracting(Step::purpose)
				.containsExactly(Step.Purpose.HOLD_METAL);
		}
	}

	/** CC up to 0.4 ppm is fit to swim in: model code, from memory. Usual dose of labels 1 lb per 10,000 gal, at most 2: table products.csv. */
	@Test
	void weeklyOxidizerGoesInForCombinedChlorineOnlyAndGrowsWithIt() {
		double before = 0;
		for (int tenths = 0; tenths <= 30; tenths++) {
			double combined = tenths / 10.0;
			Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(4.0).cc(combined), Situation.WEEKLY_REFRESH);
			Step oxidizer = plan.steps().stream().filter(step -> step.purpose() == Step.Purpose.OXIDIZE).findFirst().orElse(null);
			assertThat(oxidizer != null).as("CC %.1f", combined).isEqualTo(combined > 0.4);
			if (oxidizer != null) {
				double pounds = oxidizer.amount().amount() / 453.59237 / 1.5;
				assertThat(pounds).as("CC %.1f", combined).isBetween(1.0, 2.0 + 1e-9).isGreaterThanOrEqualTo(before - 1e-9);
				before = pounds;
			}
			else {
				assertThat(plan.swim().state()).isEqualTo(SwimReadiness.State.OPEN);
			}
		}
		assertThat(before).isGreaterThan(1.2);
		Plan untested = Pools.plan(PLASTER, Pools.balanced().fc(4.0).cc(null), Situation.WEEKLY_REFRESH);
		assertThat(untested.steps()).isEmpty();
		assertThat(untested.tasks()).extracting(Reason::code).contains("work.combined-first");
	}

	@Test
	void aPoolThatIsNotReadyWhenPeopleComeIsSaidFirst() {
		Random random = new Random(53);
		int late = 0;
		for (int n = 0; n < Draws.COUNT; n++) {
			PlanRequest request = Pools.random(random);
			Double hours = request.swimWithinHours();
			if (Planner.plan(request) instanceof Plan plan) {
				boolean ready = hours == null || (plan.swim().state() != SwimReadiness.State.CLOSED && plan.swim().waitHours() <= hours);
				List<String> first = plan.first().stream().map(Reason::code).toList();
				assertThat(!first.isEmpty() && first.get(0).equals("note.not-ready")).as(request.toString()).isEqualTo(!ready);
				late += ready ? 0 : 1;
			}
		}
		assertThat(late).isPositive();
		Plan combined = (Plan) Planner.plan(new PlanRequest(PLASTER, Pools.balanced().fc(3.0).cc(1.2).build(), Situation.ROUTINE,
				Pools.truck(), TreatmentPolicy.defaults(), 7, 2.0, UnitSystem.US));
		assertThat(combined.first().get(0).code()).isEqualTo("note.not-ready");
	}

	@Test
	void aPoolIsClosedWithTheAlgaecideGoneRoundBeforeTheLinesAreEmptied() {
		for (Sanitizer sanitizer : List.of(Sanitizer.CHLORINE_BY_HAND, Sanitizer.SALT_CELL, Sanitizer.BROMINE)) {
			PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer);
			Plan plan = Pools.plan(pool, Pools.balanced().bromine(4.0).celsius(12.0), Situation.CLOSING);
			double lines = later(plan, "later.closing-lines").get(0).afterHours();
			// Gap of the algaecide: 240 minutes, table products.csv.
			later(plan, "later.closing-algaecide").forEach(algaecide -> assertThat(algaecide.afterHours()).isBetween(24.0, lines - 4));
			assertThat(plan.swim().conditions()).extracting(condition -> condition.reason().code()).containsExactly("swim.season-closed");
			assertThat(plan.swim().needsTreatment()).isTrue();
		}
	}

	/** CDC, MMWR 50(20), 2001: everybody out, taken out, level at three places, time, and only then open. */
	@ParameterizedTest
	@CsvSource({ "CONTAMINATION, 30", "DEAD_ANIMAL, 30", "DIARRHOEA, 60", "DIARRHOEA, 10" })
	void anIncidentBeginsWithClosingAndEndsWithTheLog(Situation incident, double cya) {
		List<String> steps = Planner
			.plan(Pools.request(PLASTER, Pools.balanced().cya(cya).build(), incident)) instanceof PlanRefusal refused
					? refused.tasks().stream().map(Reason::code).toList() : List.of();
		List<String> order = new ArrayList<>(List.of("work.contamination-close",
				(incident == Situation.DEAD_ANIMAL) ? "work.animal-bag" : "work.contamination-net", "work.contamination-health-page"));
		if (cya > 15 && incident == Situation.DIARRHOEA) {
			order.add("work.incident-dilute");
		}
		order.addAll(List.of("not.stabilized-incident", "work.contamination-points", "work.incident-hold"));
		if (incident == Situation.DIARRHOEA) {
			order.add("work.diarrhoea-backwash");
		}
		order.add("work.contamination-log");
		assertThat(steps).startsWith("work.contamination-close").endsWith("work.contamination-log").containsSubsequence(order);
	}

	@ParameterizedTest
	@EnumSource(names = { "GREEN_ALGAE_LIGHT", "GREEN_ALGAE_HEAVY", "MUSTARD_ALGAE", "BLACK_ALGAE", "PINK_SLIME" })
	void whatFollowsAGrowthComesAfterItIsDead(Situation growth) {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(0.3).ph(7.3), growth);
		double end = later(plan, "later.end-of-holding").get(0).afterHours();
		for (String code : List.of("later.polyquat", "later.weigh-draining", "later.mustard-floor", "later.black-weekly")) {
			later(plan, code).forEach(step -> assertThat(step.afterHours()).as(code).isGreaterThan(end));
		}
		// What the vacuum and the filter have to do is said once, where it can be done.
		assertThat(plan.tasks()).extracting(Reason::code).doesNotContain("work.clean-filter");
	}

	@Test
	void theSwimGateOfASpaToBeEmptiedIsThatOfTheNewWater() {
		PoolFacts spa = Pools.of(400, BodyOfWater.SPA, Surface.FIBREGLASS, false, Sanitizer.CHLORINE_BY_HAND);
		Plan plan = Pools.plan(spa, Pools.balanced().fc(4.0).ch(180.0).cya(20.0).celsius(38.0), Situation.FOAM);
		assertThat(plan.replacement()).isNotNull().matches(water -> water.drainCount() == 1 && water.share() == 1);
		assertThat(plan.steps()).isEmpty();
		assertThat(plan.swim().closedUntil()).extracting(Reason::code).contains("swim.fc-refilled");
	}

}
