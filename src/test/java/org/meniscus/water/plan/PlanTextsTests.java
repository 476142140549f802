package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.text.MessageFormat;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Properties;
import java.util.Random;
import java.util.Set;
import java.util.function.Predicate;
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.support.Draws;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.product.ApplicationMethod;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProtectiveEquipment;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.units.UnitSystem;

/** Everything a plan can say has words in both languages, and uses every figure it is given. */
class PlanTextsTests {

	/**
	 * Figures that a text leaves out on purpose: "one tablet" says its number, what is read and what is borne say the third, technicians read
	 * no sources, and a level of free chlorine is dosed, not the hypochlorous acid it gives.
	 */
	private static final Predicate<String> LEFT_OUT = Pattern.compile("water\\.(count\\..*\\.one \\{0}|reading\\.ta-below-share \\{2}"
			+ "|state\\..* \\{4}|fc\\.no-room \\{3}|why\\.(.*-algae.*|pink-slime|cloudy|high-combined-chlorine|closing|stabilizer-gone)"
			+ " \\{2})")
		.asMatchPredicate();

	private static final Set<Reason> REASONS = new LinkedHashSet<>();

	@BeforeAll
	static void plan() {
		Random random = new Random(7);
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest drawn = (i % 2 == 0) ? Pools.random(random) : Pools.equipped(random, Pools.random(random));
			PlanRequest request = Pools.tested(Pools.aged(drawn, i % 90, StorageTemperature.values()[i % 3]),
					TestKit.values()[i % 4]);
			REASONS.addAll(reasons(Planner.plan(request), request));
			if (i % 4 == 0) {
				PlanRequest traces = Pools.withTraces(request, random);
				REASONS.addAll(reasons(Planner.plan(traces), traces));
			}
		}
		assertThat(REASONS).hasSizeGreaterThan(5 * Draws.COUNT);
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "_es" })
	void everythingAPlanSaysHasWords(String language) throws IOException {
		Properties texts = new Properties();
		try (Reader reader = new InputStreamReader(
				Objects.requireNonNull(getClass().getResourceAsStream("/messages/water" + language + ".properties")),
				StandardCharsets.UTF_8)) {
			texts.load(reader);
		}
		Wording.Texts lookup = (key, args) -> {
			String pattern = texts.getProperty(key);
			assertThat(pattern).as(key).isNotBlank();
			for (int figure = 0; figure < args.length; figure++) {
				if (!LEFT_OUT.test(key + " {" + figure + "}")) {
					assertThat(pattern).as(key).containsPattern("\\{" + figure + "[,}]");
				}
			}
			return MessageFormat.format(pattern, args);
		};
		for (Reason reason : REASONS) {
			String words = reason.format(UnitSystem.US, lookup);
			assertThat(words).as(reason.code()).doesNotContain("{", "}", "null");
		}
		for (Level level : Level.values()) {
			lookup.text(Wording.levelKey(level));
		}
		for (ProductKind kind : ProductKind.values()) {
			lookup.text(Wording.kindKey(kind));
			lookup.text(Wording.ingredientKey(kind.ingredient()));
		}
		for (Situation situation : Situation.values()) {
			lookup.text(Wording.situationKey(situation));
			reasons(SituationProcedures.of(situation)).forEach(reason -> reason.format(UnitSystem.US, lookup));
			if (SituationProcedures.of(situation).shockLevel() != null) {
				lookup.text("water.why." + Wording.code(situation), "1", "2", "3");
			}
		}
		for (ApplicationMethod application : ApplicationMethod.values()) {
			lookup.text("water.apply." + Wording.code(application));
		}
		for (ProtectiveEquipment protection : ProtectiveEquipment.values()) {
			lookup.text("water.protection." + Wording.code(protection));
		}
		for (Level level : List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS)) {
			lookup.text("water.replace." + Wording.code(level), "1", "2", "3");
		}
		for (Step.Purpose purpose : Step.Purpose.values()) {
			lookup.text("water.purpose." + purpose);
		}
		for (MeasuredAmount.Count count : MeasuredAmount.Count.values()) {
			lookup.text("water.count." + count, "2");
			lookup.text("water.count." + count + ".one", "1");
		}
		for (MeasuredAmount.Measure measure : MeasuredAmount.Measure.values()) {
			lookup.text("water.measure." + measure);
		}
	}

	/** Everything in the row of a situation that needs no figures. */
	private static List<Reason> reasons(SituationProcedure procedure) {
		List<Reason> reasons = new ArrayList<>(procedure.tasksWithoutDose());
		procedure.contraindications().forEach(contraindication -> reasons.add(contraindication.reason()));
		procedure.followUps()
			.forEach(followUp -> reasons.add((followUp.product() != null) ? Reason.of(followUp.code(), Term.of(followUp.product()))
					: Reason.of(followUp.code())));
		if (procedure.refusal() != null) {
			reasons.add(procedure.refusal());
		}
		if (procedure.balanceWaits() != null) {
			reasons.add(Reason.of(procedure.balanceWaits()));
		}
		return reasons;
	}

	private static List<Reason> reasons(PlanResult outcome, PlanRequest request) {
		List<Reason> reasons = new ArrayList<>(outcome.assessment().reasons());
		ReadingCheck.check(request.readings(), null, request.pool(), Set.of()).forEach(finding -> reasons.add(finding.reason()));
		if (outcome instanceof PlanRefusal refused) {
			reasons.addAll(refused.reasons());
			reasons.addAll(refused.tasks());
			return reasons;
		}
		Plan plan = (Plan) outcome;
		reasons.addAll(plan.tasks());
		reasons.addAll(plan.cautions());
		reasons.addAll(Pools.notes(plan));
		reasons.addAll(plan.swim().reasons());
		reasons.addAll(plan.outcome().suggestions());
		plan.followUps().forEach(later -> reasons.add(later.reason()));
		plan.missing().forEach(missing -> reasons.add(missing.reason()));
		plan.rejected().forEach(alternative -> reasons.add(alternative.reason()));
		if (plan.replacement() != null) {
			reasons.addAll(plan.replacement().reasons());
			reasons.addAll(plan.replacement().cautions());
		}
		for (Step step : plan.steps()) {
			reasons.add(step.reason());
			reasons.add(step.choiceReason());
			reasons.addAll(step.instructions());
			reasons.addAll(step.cautions());
			step.alternatives().forEach(alternative -> reasons.add(alternative.reason()));
		}
		return reasons;
	}

}
