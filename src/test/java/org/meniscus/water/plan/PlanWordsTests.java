package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.text.MessageFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.ResourceBundle;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.units.UnitSystem;

/** A plan is read with wet hands: no sentence twice, no source, and no more words than a stop has time for. */
class PlanWordsTests {

	private static List<String> sentences(Plan plan, String language) {
		ResourceBundle texts = ResourceBundle.getBundle("messages.water", Locale.forLanguageTag(language),
				ResourceBundle.Control.getNoFallbackControl(ResourceBundle.Control.FORMAT_DEFAULT));
		return reasons(plan).map(reason -> reason.format(UnitSystem.US, (key, args) -> MessageFormat.format(texts.getString(key), args)))
			.toList();
	}

	private static Stream<Reason> reasons(Plan plan) {
		List<Reason> reasons = new ArrayList<>(plan.assessment().reasons());
		reasons.addAll(plan.cautions());
		for (Step step : plan.steps()) {
			reasons.add(step.reason());
			reasons.addAll(step.instructions());
			reasons.addAll(step.cautions());
		}
		reasons.addAll(plan.tasks());
		reasons.addAll(plan.swim().reasons());
		plan.followUps().forEach(later -> reasons.add(later.reason()));
		plan.notes().forEach(note -> reasons.add(note.reason()));
		reasons.addAll(plan.outcome().suggestions());
		return reasons.stream();
	}

	@Test
	void nothingIsSaidTwice() {
		Random random = new Random(59);
		for (int n = 0; n < Draws.COUNT / 2; n++) {
			PlanRequest request = Pools.random(random);
			if (Planner.plan(request) instanceof Plan plan) {
				List<Reason> once = Stream.of(plan.cautions(), plan.tasks(), plan.swim().reasons(), Pools.notes(plan))
					.flatMap(List::stream)
					.toList();
				assertThat(once).as(request.toString()).doesNotHaveDuplicates();
				plan.steps().forEach(step -> {
					assertThat(step.instructions()).doesNotHaveDuplicates();
					assertThat(step.cautions()).doesNotHaveDuplicates().doesNotContainAnyElementsOf(plan.cautions());
				});
			}
		}
	}

	@ParameterizedTest
	@ValueSource(strings = { "en", "es" })
	void aPlanSaysNoSourcesToTechnicians(String language) {
		Random random = new Random(61);
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			if (Planner.plan(Pools.random(random)) instanceof Plan plan) {
				assertThat(sentences(plan, language)).noneMatch(text -> text.matches("(?i).*(no source|from memory|annex|MAHC|et al|§).*"));
			}
		}
	}

	/** A routine plan with acid and chlorine, all that is not folded away; most words: common practice, no source. */
	@ParameterizedTest
	@CsvSource({ "en, 350", "es, 390" })
	void aRoutinePlanIsShort(String language, int mostWords) {
		Plan plan = Pools.plan(Pools.plaster(15_000), Pools.balanced().fc(1.2).ph(7.9), Situation.ROUTINE);
		assertThat(plan.steps()).hasSize(2);
		int words = sentences(plan, language).stream().mapToInt(text -> text.split("\\s+").length).sum();
		assertThat(words).as("%s", sentences(plan, language)).isLessThanOrEqualTo(mostWords);
	}

}
