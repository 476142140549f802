package org.meniscus.visit.web;

import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.web.LevelRule;
import org.meniscus.visit.Advice;

/**
 * A plan as it is drawn.
 *
 * @param words what needs no drawing: sentences as they were shown first
 * @param gauges judged levels now and after
 * @param others levels that are only stated
 */
record PlanView(Advice words, List<Gauge> gauges, List<String> others, List<StepView> steps) {

	/** @param afterState code under {@code level.state.*}; null when nothing changes */
	record Gauge(LevelRule rule, @Nullable String afterState) {
	}

	/** @param changes "pH 7.8 → 7.4" */
	record StepView(Advice.Step words, List<String> changes) {
	}

	static PlanView of(Advice advice, LevelWords words) {
		List<Gauge> gauges = advice.levels().stream().map(change -> gauge(change, words)).filter(Objects::nonNull).toList();
		List<String> others = advice.levels().stream().filter(change -> words.rule(change) == null).map(words::words).toList();
		List<StepView> steps = advice.steps()
			.stream()
			.map(step -> new StepView(step, step.changes().stream().map(words::words).toList()))
			.toList();
		return new PlanView(advice, gauges, others, steps);
	}

	private static @Nullable Gauge gauge(Advice.Change change, LevelWords words) {
		LevelRule rule = words.rule(change);
		if (rule == null) {
			return null;
		}
		return new Gauge(rule, (change.moves() && change.stateAfter() != null) ? change.stateAfter().name() : null);
	}

}
