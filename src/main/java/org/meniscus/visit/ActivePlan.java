package org.meniscus.visit;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.meniscus.water.pool.Situation;

/**
 * The plan that is being followed at a pool: the newest one in which anything was worked out, until a later one takes over.
 *
 * @param madeOn day of its visit
 * @param steps that have their day after it, in time order
 */
public record ActivePlan(VisitId visit, LocalDate madeOn, Situation situation, List<DatedFollowUp> steps) {

	/** A plan that nobody has followed for longer is out of date; common practice, no source. */
	static final int ACTIVE_DAYS = 45;

	public ActivePlan {
		steps = List.copyOf(steps);
	}

	/** Empty when the newest plan asks for nothing further. @param visits newest first */
	static Optional<ActivePlan> of(List<VisitRecord> visits) {
		for (VisitRecord visit : visits) {
			Advice advice = Advice.fromJson(visit.advice()).orElse(null);
			Advice.PlanText plan = (advice != null) ? advice.plan() : null;
			if (advice != null && plan != null) {
				List<DatedFollowUp> steps = plan.followUps().stream().map(Advice.FollowUpText::step).toList();
				return steps.isEmpty() ? Optional.empty()
						: Optional.of(new ActivePlan(visit.id(), visit.performedOn(), advice.situation(), steps));
			}
		}
		return Optional.empty();
	}

	/** What is to be done on a day, or was to be done before it. */
	public List<DatedFollowUp> due(LocalDate day) {
		return steps.stream().filter(step -> !step.day().isAfter(day)).toList();
	}

	public List<DatedFollowUp> after(LocalDate day) {
		return steps.stream().filter(step -> step.day().isAfter(day)).toList();
	}

}
