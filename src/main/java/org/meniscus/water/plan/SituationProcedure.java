package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ShockLevel;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;

/**
 * What a situation asks for besides today's ordinary doses.
 *
 * @param refusal why nothing is dosed; null where doses are worked out
 * @param tasksWithoutDose what can be done when no dose is worked out, in order
 * @param shockLevel FC to kill with, if {@code shockCondition} holds; null for none
 * @param holdDays days on which FC is brought back to the level of the treatment; zero for none
 * @param balanceWaits message code of why TA, CH, CYA and salt are not lifted yet; null where they may be
 * @param tasks work beside the doses, in order
 * @param followUps on other days
 * @param contraindications what is not to be done
 */
record SituationProcedure(@Nullable Reason refusal, List<Reason> tasksWithoutDose, @Nullable ShockLevel shockLevel,
		PoolCondition shockCondition, int holdDays, @Nullable String balanceWaits, List<Task> tasks, List<FollowUp> followUps,
		List<ConditionalContraindication> contraindications) {

	static final double DAY = 24;

	/** Cold water under a cover may keep chlorine for months; a visit is not planned further out. Common practice, no source. */
	private static final int MOST_DAYS_OF_FALL = 14;

	private static final Set<String> WORDED_FOR_SPA = Set.of("work.clean", "work.brush");

	/** The next morning, whenever in working hours the plan is made. */
	static final double NEXT_MORNING = 18;

	/** What work does to the chlorine of the days ahead: nothing that does the contrary is offered beside it. */
	enum Act {

		/** Feeder, tablets, cell: less of it, or none. */
		FEED_DOWN, CELL_OFF, COVER_OFF, OTHER_CHLORINE

	}

	/** As long as FC takes to come down. */
	enum Fall {

		NONE,
		/** To what people may swim in. */
		TO_SWIM,
		/** To where a colour test of pH can be trusted. */
		TO_PH_TEST

	}

	/** Work, said with its figures. @param act what it does besides; null for nothing that counts here */
	record Task(PoolCondition condition, TaskText text, @Nullable Act act) {
	}

	/** Null where the figures are unknown. */
	interface TaskText {

		@Nullable
		Reason of(PlanContext context, DosingResult dosing);

	}

	/**
	 * A test or work on another day.
	 *
	 * @param product null, or what goes in by its label if the company has it; without it the step falls away
	 * @param fall by which it moves out
	 */
	record FollowUp(PoolCondition condition, double afterHours, @Nullable ProductKind product, String code, Fall fall) {
	}

	/**
	 * @param ingredients kept out of the plan; none where it is a way of working that is warned of
	 * @param about what the sentence speaks of: it is not said where that goes in all the same
	 * @param yields whether it gives way where nothing else along brings a pool back to its minimum of FC: what it leaves is slow
	 */
	record ConditionalContraindication(PoolCondition condition, Reason reason, Set<ActiveIngredient> ingredients,
			Set<ActiveIngredient> about, boolean yields) {
	}

	SituationProcedure {
		tasksWithoutDose = List.copyOf(tasksWithoutDose);
		tasks = List.copyOf(tasks);
		followUps = List.copyOf(followUps);
		contraindications = List.copyOf(contraindications);
	}

	/** In a pool kept on chlorine; null where none is called for. */
	@Nullable
	ShockLevel shock(PlanRequest request, Assessment assessment) {
		return (this.shockLevel != null && this.shockCondition.holds(request, assessment)) ? this.shockLevel : null;
	}

	List<Reason> tasks(PlanContext context, DosingResult dosing) {
		List<Reason> reasons = new ArrayList<>();
		for (Task task : this.tasks) {
			Reason reason = task.condition().holds(context.request(), context.assessment()) ? task.text().of(context, dosing) : null;
			if (reason != null) {
				reasons.add(at(context.pool(), reason));
			}
		}
		if (context.pool().sanitizer() == Sanitizer.BROMINE) {
			reasons.add(Reason.of("work.bromine-setting"));
		}
		return reasons;
	}

	/** A spa has no walls to brush and no skimmer net. */
	static Reason at(PoolFacts pool, Reason work) {
		return (pool.body() == BodyOfWater.SPA && WORDED_FOR_SPA.contains(work.code())) ? Reason.of(work.code() + "-spa") : work;
	}

	/** What the work of this situation does at this pool. */
	Set<Act> acts(PlanRequest request, Assessment assessment) {
		Set<Act> acts = EnumSet.noneOf(Act.class);
		for (Task task : this.tasks) {
			if (task.act() != null && task.condition().holds(request, assessment)) {
				acts.add(task.act());
			}
		}
		return acts;
	}

	/** Whether FC until the next visit is a matter of its own: brought back day by day, left to fall, or the pool is out of use. */
	boolean managesChlorine(PlanRequest request) {
		return this.holdDays > 0 || request.situation().chlorineWaits() || request.situation() == Situation.CLOSING;
	}

	List<FollowUpStep> followUps(PlanContext context, DosingResult dosing) {
		List<FollowUpStep> steps = new ArrayList<>();
		if (context.situation() == Situation.HIGH_PHOSPHATE && context.replacement() != null) {
			// New water takes phosphate along: what is left of it is tested then.
			return steps;
		}
		if (this.holdDays > 0 && context.shockLater() == null) {
			hold(context, dosing, steps);
		}
		for (FollowUp followUp : this.followUps) {
			if (followUp.condition().holds(context.request(), context.assessment())) {
				add(followUp, followUp.afterHours() + fallHours(followUp.fall(), context, dosing), context, steps);
			}
		}
		return steps;
	}

	private static double fallHours(Fall fall, PlanContext context, DosingResult dosing) {
		return switch (fall) {
			case NONE -> 0;
			case TO_SWIM -> fallHours(context, dosing.freeChlorine(), context.request().policy().swimCeiling());
			case TO_PH_TEST -> fallHours(context, dosing.freeChlorine(), ReadingCheck.FC_PH_INTERFERENCE);
		};
	}

	/** Whole days until FC has come down to so much, nothing fed meanwhile, in hours. @param to ppm */
	static double fallHours(PlanContext context, double fc, double to) {
		ChlorineDemand demand = context.request().forecast().demand().withSupply(0);
		int days = 0;
		while (days < MOST_DAYS_OF_FALL && demand.expected(fc, days) > to) {
			days++;
		}
		return days * DAY;
	}

	private static void add(FollowUp followUp, double hours, PlanContext context, List<FollowUpStep> steps) {
		ProductKind kind = followUp.product();
		if (kind == null) {
			steps.add(new FollowUpStep(hours, null, null, Reason.of(followUp.code())));
			return;
		}
		context.request().products().stream()
			.filter(product -> product.kind() == kind)
			.findFirst()
			.ifPresent(product -> steps
				.add(new FollowUpStep(hours, product, TraceDosing.expectedAmount(context, product),
						Reason.of(followUp.code(), Term.of(kind)))));
	}

	/** Within ceiling and label, ppm. */
	double heldFc(PlanContext context, DosingResult dosing) {
		Water water = dosing.water().water();
		double fc = Math.max(0, water.freeChlorine() - context.chlorineForAmmonia());
		DosingSequence.Addition chlorine = chlorine(dosing);
		if (chlorine != null) {
			// The pH that the dose was worked out at: hypochlorite lifts it only until it is used up.
			water = water.withPh(chlorine.before().water().ph());
		}
		ShockLevel shock = context.shock();
		if (shock != null) {
			fc = Math.max(fc, Math.min(shock.fc(water), context.request().policy().shockCeiling()));
			fc = (chlorine == null) ? fc : Math.min(fc, AdditionCaps.labelledFc(chlorine.product(), context.litres()));
		}
		return fc;
	}

	/** The last of today; null where none goes in. */
	private static DosingSequence.@Nullable Addition chlorine(DosingResult dosing) {
		DosingSequence.Addition chlorine = null;
		for (DosingSequence.Addition addition : dosing.additions()) {
			chlorine = (addition.purpose() == Step.Purpose.RAISE_FC) ? addition : chlorine;
		}
		return chlorine;
	}

	/**
	 * FC is brought back to the level of the treatment each day until the growth is dead: the water clear and no more than 1 ppm of FC
	 * lost from dusk to dawn.
	 */
	private void hold(PlanContext context, DosingResult dosing, List<FollowUpStep> steps) {
		DosingSequence.Addition addition = chlorine(dosing);
		Product chlorine = (addition != null) ? addition.product() : null;
		double fc = heldFc(context, dosing);
		boolean ammonia = context.situation() == Situation.STABILIZER_GONE && context.chlorineForAmmonia() > 0;
		steps.add(new FollowUpStep(NEXT_MORNING, null, null, Reason.of(ammonia ? "later.ammonia-again" : "later.overnight")));
		for (int day = 1; day <= this.holdDays; day++) {
			steps.add(new FollowUpStep(day * DAY, chlorine, null, Reason.of("later.hold", Term.of(Level.FC, fc))));
		}
		steps.add(new FollowUpStep(this.holdDays * DAY + NEXT_MORNING, null, null, Reason.of("later.end-of-holding")));
	}

	static Builder builder() {
		return new Builder();
	}

	/** Collects a procedure row by row. */
	static final class Builder {

		private @Nullable Reason refusal;

		private List<Reason> tasksWithoutDose = List.of(Reason.of("work.clean"), Reason.of("work.re-test"));

		private @Nullable ShockLevel shockLevel;

		private PoolCondition shockCondition = PoolCondition.ALWAYS;

		private int holdDays;

		private @Nullable String balanceWaits;

		private final List<Task> tasks = new ArrayList<>();

		private final List<FollowUp> followUps = new ArrayList<>();

		private final List<ConditionalContraindication> contraindications = new ArrayList<>();

		private Builder() {
		}

		/** Nothing is dosed. @param codes of what can be done meanwhile, in order */
		Builder refuse(String code, String... codes) {
			this.refusal = Reason.of("refused." + code);
			this.tasksWithoutDose = List.of(codes).stream().map(Reason::of).toList();
			return this;
		}

		Builder shock(ShockLevel level) {
			return shock(PoolCondition.ALWAYS, level);
		}

		Builder shock(PoolCondition condition, ShockLevel level) {
			this.shockCondition = condition;
			this.shockLevel = level;
			return this;
		}

		Builder hold(int days) {
			this.holdDays = days;
			return this;
		}

		Builder balanceWaits(String code) {
			this.balanceWaits = "note." + code;
			return this;
		}

		Builder tasks(String... codes) {
			return tasks(PoolCondition.ALWAYS, codes);
		}

		Builder tasks(PoolCondition condition, String... codes) {
			for (String code : codes) {
				Reason reason = Reason.of("work." + code);
				task(condition, (context, dosing) -> reason);
			}
			return this;
		}

		Builder task(PoolCondition condition, TaskText text) {
			this.tasks.add(new Task(condition, text, null));
			return this;
		}

		Builder task(PoolCondition condition, Act act, String code) {
			Reason reason = Reason.of("work." + code);
			this.tasks.add(new Task(condition, (context, dosing) -> reason, act));
			return this;
		}

		Builder task(PoolCondition condition, Act act, TaskText text) {
			this.tasks.add(new Task(condition, text, act));
			return this;
		}

		Builder later(double hours, String code) {
			return later(PoolCondition.ALWAYS, hours, code);
		}

		Builder later(PoolCondition condition, double hours, String code) {
			this.followUps.add(new FollowUp(condition, hours, null, "later." + code, Fall.NONE));
			return this;
		}

		/** So many hours after FC has fallen. */
		Builder onceFallen(Fall fall, PoolCondition condition, double hours, @Nullable ProductKind product, String code) {
			this.followUps.add(new FollowUp(condition, hours, product, "later." + code, fall));
			return this;
		}

		/** What goes in by its label on another day. */
		Builder later(double hours, ProductKind product, String code) {
			return later(PoolCondition.ALWAYS, hours, product, code);
		}

		Builder later(PoolCondition condition, double hours, ProductKind product, String code) {
			this.followUps.add(new FollowUp(condition, hours, product, "later." + code, Fall.NONE));
			return this;
		}

		Builder ban(String code, ActiveIngredient... ingredients) {
			return ban(PoolCondition.ALWAYS, code, ingredients);
		}

		Builder ban(PoolCondition condition, String code, ActiveIngredient... ingredients) {
			return keepOut(condition, code, false, ingredients);
		}

		private Builder keepOut(PoolCondition condition, String code, boolean yields, ActiveIngredient... ingredients) {
			Set<ActiveIngredient> out = Set.of(ingredients);
			this.contraindications.add(new ConditionalContraindication(condition, Reason.of("not." + code), out, out, yields));
			return this;
		}

		/** A ban for what a product leaves behind in the long run. */
		Builder avoid(PoolCondition condition, String code, ActiveIngredient... ingredients) {
			return keepOut(condition, code, true, ingredients);
		}

		Builder warn(String... codes) {
			for (String code : codes) {
				ban(code);
			}
			return this;
		}

		Builder warn(PoolCondition condition, Reason reason) {
			this.contraindications.add(new ConditionalContraindication(condition, reason, Set.of(), Set.of(), false));
			return this;
		}

		/** Said only where nothing goes in. */
		Builder warnOfAnything(PoolCondition condition, String code) {
			this.contraindications.add(new ConditionalContraindication(condition, Reason.of("not." + code), Set.of(),
					EnumSet.allOf(ActiveIngredient.class), false));
			return this;
		}

		SituationProcedure build() {
			return new SituationProcedure(this.refusal, this.tasksWithoutDose, this.shockLevel, this.shockCondition,
					this.holdDays,
					this.balanceWaits, this.tasks, this.followUps, this.contraindications);
		}

	}

}
