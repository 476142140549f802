package org.meniscus.visit.web;

import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.LevelRule;
import org.meniscus.visit.Advice;
import org.meniscus.water.assess.LevelState;

/**
 * A plan as it is drawn.
 *
 * @param advice what needs no drawing: sentences as they were shown first
 * @param gauges levels with a range, now and after
 * @param levelsByState levels with a range by their state now, the worst first
 * @param others levels that are only stated
 */
record PlanView(Advice advice, List<Gauge> gauges, List<LevelsInState> levelsByState, List<String> others, List<StepView> steps) {

	private static final List<LevelState.State> WORST_FIRST = List.of(LevelState.State.OUT_OF_RANGE, LevelState.State.DRIFTING,
			LevelState.State.IN_RANGE);

	/** @param afterState code under {@code level.state.*}; null when nothing changes */
	record Gauge(LevelRule rule, @Nullable String afterState) {
	}

	/** Levels of one state. @param levels "FC, pH" */
	record LevelsInState(LevelState.State state, String levels) {

		static List<LevelsInState> of(List<Gauge> gauges) {
			return WORST_FIRST.stream().map(state -> new LevelsInState(state, levels(gauges, state)))
				.filter(group -> !group.levels.isEmpty()).toList();
		}

		private static String levels(List<Gauge> gauges, LevelState.State state) {
			return gauges.stream()
				.map(Gauge::rule)
				.filter(rule -> rule.state().equals(state.name()))
				.map(LevelRule::label)
				.collect(Collectors.joining(", "));
		}

	}

	/** @param changes "pH 7.8 → 7.4" */
	record StepView(Advice.AdviceStep advice, List<String> changes) {
	}

	static PlanView of(Advice advice, LevelFormatter formatter) {
		List<Gauge> gauges = advice.water().levels().stream().map(change -> gauge(change, formatter)).filter(Objects::nonNull).toList();
		List<String> others = advice.water().levels().stream().filter(change -> formatter.rule(change) == null).map(formatter::format)
			.toList();
		List<StepView> steps = advice.steps()
			.stream()
			.map(step -> new StepView(step, step.changes().stream().map(formatter::format).toList()))
			.toList();
		return new PlanView(advice, gauges, LevelsInState.of(gauges), others, steps);
	}

	private static @Nullable Gauge gauge(Advice.LevelChange change, LevelFormatter formatter) {
		LevelRule rule = formatter.rule(change);
		if (rule == null) {
			return null;
		}
		return new Gauge(rule, (change.changes() && change.stateAfter() != null) ? change.stateAfter().name() : null);
	}

}
