package org.meniscus.visit.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDateTime;
import java.util.Arrays;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.Set;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.visit.Advice;
import org.meniscus.visit.AdviceFormatter;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.support.ResourceBundleMessageSource;
import org.springframework.web.util.HtmlUtils;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;

/** The plan as a page draws it, each part of the advice in its place. */
class PlanTemplateTests {

	private static final PoolFacts POOL = Pools.plaster(15_000);

	private static final List<Product> TRUCK = Arrays.stream(ProductKind.values()).map(kind -> Product.usual(kind.name(), kind)).toList();

	private final ResourceBundleMessageSource messages = new ResourceBundleMessageSource();

	private final SpringTemplateEngine engine = new SpringTemplateEngine();

	PlanTemplateTests() {
		messages.setBasenames("messages/water", "messages/visit", "messages/route", "messages/platform");
		messages.setDefaultEncoding("UTF-8");
		messages.setFallbackToSystemLocale(false);
		ClassLoaderTemplateResolver templates = new ClassLoaderTemplateResolver();
		templates.setPrefix("templates/");
		templates.setSuffix(".html");
		engine.setTemplateResolver(templates);
		engine.setTemplateEngineMessageSource(messages);
	}

	@ParameterizedTest
	@EnumSource(Situation.class)
	void everyPartOfThePlanIsShown(Situation situation) {
		Advice advice = advice(Pools.balanced().fc(0.5).ph(7.9).cya(110.0).build(), situation);
		String page = page(advice);
		Advice.PlanText plan = advice.plan();
		if (plan == null) {
			Advice.RefusalText refusal = advice.refusal();
			assertThat(refusal).isNotNull();
			assertShown(page, refusal.reasons());
			assertShown(page, refusal.tasks());
			return;
		}
		plan.steps().forEach(step -> {
			assertShown(page, List.of(step.title(), step.reason(), step.choiceReason(), step.gap(), step.swimWait()));
			assertShown(page, step.instructions());
			assertShown(page, step.cautions());
			step.alternatives().forEach(other -> assertShown(page, List.of(other.product(), other.reason())));
		});
		assertShown(page, plan.tasks());
		assertShown(page, plan.followUps().stream().map(Advice.FollowUpText::text).toList());
		assertShown(page, plan.notes().cautions());
		assertShown(page, plan.notes().notes());
		assertShown(page, plan.notes().rejected());
		assertShown(page, plan.forecast().justAfter());
		assertShown(page, plan.forecast().nextVisit());
		assertShown(page, plan.forecast().suggestions());
		assertShown(page, advice.water().findings());
		assertShown(page, advice.swim().conditions());
		if (plan.replacement() != null) {
			assertShown(page, plan.replacement().reasons());
		}
		if (plan.cost() != null) {
			assertShown(page, List.of(plan.cost().text()));
			assertShown(page, plan.cost().levelCosts());
		}
	}

	@ParameterizedTest
	@ValueSource(booleans = { true, false })
	void closedIsSaidBeforeAnythingElse(boolean drainVisible) {
		Advice advice = advice(Pools.balanced().drainVisible(drainVisible).build(), Situation.ROUTINE);
		String text = page(advice).replaceAll("<[^>]*>", " ").strip();
		assertThat(text.startsWith("Closed to swimmers until a new test or look.")).isEqualTo(!drainVisible);
	}

	private static void assertShown(String page, List<String> sentences) {
		assertThat(sentences).allMatch(page::contains);
	}

	private Advice advice(Readings readings, Situation situation) {
		Wording.Texts texts = (key, args) -> messages.getMessage(key, args, Locale.ENGLISH);
		PlanResult outcome = Planner
			.plan(new PlanRequest(POOL, readings, situation, TRUCK, TreatmentPolicy.defaults(), 7, UnitSystem.US));
		return new AdviceFormatter(UnitSystem.US, "en", POOL.targets(), texts, Currency.getInstance("USD")).format(outcome, situation, "b",
				LocalDateTime.of(2026, 7, 1, 10, 0));
	}

	private String page(Advice advice) {
		Context model = new Context(Locale.ENGLISH);
		model.setVariable("plan", PlanView.of(advice,
				new LevelFormatter(UnitSystem.US, (key, args) -> messages.getMessage(key, args, Locale.ENGLISH))));
		return HtmlUtils.htmlUnescape(engine.process("visit/plan", Set.of("plan"), model));
	}

}
