package org.meniscus.water.plan;

import java.util.EnumMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.TreatedWater;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductEffects;

/**
 * Acid and alkali, judged on the water that everything else of the plan settles to: stabilizer dissolved, its chlorine used up, what a
 * gap puts off counted in. Aims lie between pH 7.2 and 7.6 so that the saturation index comes into its band; neither takes pH or index
 * out of it. A dose grows from nothing at its trigger, so that a step of the test does not turn it on whole. Aims and triggers are common
 * practice, no source, unless named.
 */
final class PhDosing {

	/** PH aimed at by acid on an ordinary visit; the middle of the ideal range. */
	static final double PH_AIM = 7.5;

	/** PH to start from before superchlorination and calcium hypochlorite: 7.2 to 7.4 (labels of generic calcium hypochlorite). */
	private static final double PH_BEFORE_SHOCK = ProductSelector.PH_CALCIUM_HYPOCHLORITE;

	private static final double PH_SHOCK_AIM = 7.3;

	/** PH that acid goes down to when TA is to fall: acid, then aeration; the lowest aim at all. */
	private static final double PH_LEAST_AIM = 7.2;

	/** PH that is aimed at from below where the water takes lime otherwise. */
	private static final double PH_MOST_AIM = 7.6;

	/** Between a trigger and its aim, so that a dose is not followed by another. */
	private static final double DEAD_BAND = 0.2;

	/** PH moved for each pH beyond the trigger, up to the aim. */
	private static final double GAIN = 1.5;

	/** Half a step of a pH test: a dose that moves less is none. */
	private static final double HALF_TEST_STEP = 0.05;

	/** A step of a pH test: acid held back to less, that nothing of today needs, is left out. */
	private static final double TEST_STEP = 0.1;

	/** Where other doses take pH or index out of their limits, by so much. */
	private static final double LEAST_CORRECTION = 0.01;

	/** PH by which that is corrected beyond the limit: what is measured out is rounded down. */
	private static final double MARGIN = 0.04;

	/** Saturation index down to which acid keeps pH in range with today's chlorine: the acceptable end of the usual range. */
	private static final double OPEN_INDEX = -0.3;

	/** Share of the acid wanted below which none goes in where what raises the index has to go in first. */
	private static final double WORTH_HALF = 0.5;

	/** The same where nothing waits for acid. */
	private static final double WORTH_WHILE = 0.15;

	/** PH above which acid does not wait for alkalinity or hardness; a code closes pools there: trade facts, 1.7. */
	private static final double PH_HIGHEST = 8.0;

	/**
	 * @param water whose pH is moved
	 * @param measured that pH, held against the trigger
	 */
	private record Target(Water water, double measured, double trigger, double aim, Level cause, Reason reason) {

		/** By how much pH is to fall. */
		double fall() {
			return Math.min(this.measured - this.aim, GAIN * (this.measured - this.trigger));
		}

	}

	/** How much of a reagent, mg/L. */
	private interface ReagentDose {

		double of(Reagent reagent);

	}

	private final DosingRun run;

	private final PlanContext context;

	private final PoolFacts pool;

	private final Readings readings;

	private final double ph;

	private final @Nullable Range range;

	private final @Nullable Range alkalinityRange;

	private final @Nullable Double alkalinity;

	PhDosing(DosingRun run) {
		this.run = run;
		this.context = run.context();
		this.pool = this.context.pool();
		this.readings = this.context.readings();
		Double tested = this.readings.ph();
		this.ph = (tested != null) ? tested : PH_AIM;
		this.range = this.pool.targets().range(Level.PH);
		this.alkalinityRange = this.pool.targets().range(Level.TA);
		this.alkalinity = this.context.effectiveReadings().ta();
	}

	/** @param trial everything else of the plan */
	void lower(DosingRun trial) {
		Range acceptable = this.range;
		if (acceptable == null || this.alkalinity == null || !isTrusted()) {
			return;
		}
		TreatedWater others = trial.treatedBeforeAcid(acceptable, this.run);
		Target target = target(acceptable, trial, others);
		double fall = Math.max(target.fall(), others.tooHigh());
		double first = fallFromHighest(acceptable, others);
		boolean wanted = fall >= HALF_TEST_STEP - 1e-9;
		Water today = others.today();
		// Chlorine of an earlier dose lifts it only until it is used up, and was answered then.
		double stays = (today.ph() > this.ph + LEAST_CORRECTION) ? today.ph() : withChlorineThatStays(today, today.freeChlorine()).ph();
		boolean outToday = stays > acceptable.acceptableHigh() + HALF_TEST_STEP && (this.context.situation() != Situation.CLOSING
				|| PoolCondition.PH_HIGH.holds(this.context.request(), this.context.assessment()));
		if (!wanted && !outToday && first < HALF_TEST_STEP) {
			return;
		}
		ReagentDose fromHighest = acid -> (first <= 0) ? 0 : TreatedWater.dose(others.settled(), acid, others.settled().ph() - first);
		ReagentDose whole = oncePerReagent(acid -> Math.max(fromHighest.of(acid),
				Math.max(wanted ? TreatedWater.dose(target.water(), acid, target.measured() - fall) : 0,
						outToday ? TreatedWater.dose(today, acid, acceptable.acceptableHigh() - MARGIN) : 0)));
		ReagentDose least = acid -> Math.max(others.mostAcid(acid, fromHighest.of(acid), TreatedWater.ATTACKS),
				outToday ? others.mostAcidAbove(acid, TreatedWater.dose(today, acid, acceptable.acceptableHigh() - MARGIN), OPEN_INDEX)
						: 0);
		ReagentDose most = oncePerReagent(acid -> {
			double wholeDose = whole.of(acid);
			double possible = others.mostAcid(acid, wholeDose);
			return (possible >= wholeDose) ? wholeDose : Math.max(possible, Math.min(wholeDose, least.of(acid)));
		});
		boolean forPh = others.settled().ph() < this.ph - HALF_TEST_STEP && others.settled().ph() < PH_SHOCK_AIM;
		double possible = most.of(Reagent.HYDROCHLORIC_ACID) / whole.of(Reagent.HYDROCHLORIC_ACID);
		// Where other doses bring pH down by themselves, or only today is meant, less acid needs no other day.
		boolean limited = possible < 1 && (wanted || first > 0) && !forPh;
		boolean held = limited && (trial.goesIn(Step.Purpose.RAISE_TA) ? possible < WORTH_HALF
				: least.of(Reagent.HYDROCHLORIC_ACID) <= 0
						&& (possible < WORTH_WHILE || others.fall(most.of(Reagent.HYDROCHLORIC_ACID)) < TEST_STEP));
		if (held) {
			noteHeld(trial);
		}
		else {
			this.run.add(goal(target, most));
		}
		if (limited && (1 - possible) * Math.max(first, fall) >= HALF_TEST_STEP) {
			this.run.later(goal(target, acid -> whole.of(acid) - (held ? 0 : most.of(acid))), this.context.nextVisitHours(),
					"later.acid-after-alkalinity");
		}
		if (target.cause() == Level.TA && this.run.goesIn(Step.Purpose.LOWER_PH)) {
			this.run.task((this.run.water().water().ph() <= PH_BEFORE_SHOCK) ? "work.aerate-for-ta" : "work.acid-before-air");
		}
	}

	/** Not beside an index at or above zero, which does not attack; and only what this plan raises is raised first. */
	private void noteHeld(DosingRun trial) {
		if (Speciation.of(trial.water().water()).calciteSaturationIndex() < 0) {
			boolean raised = trial.goesIn(Step.Purpose.RAISE_TA) || trial.goesIn(Step.Purpose.RAISE_CH);
			this.run.note(raised ? "note.acid-after-alkalinity" : "note.acid-held");
		}
	}

	/** A goal is asked for its dose again and again. */
	private static ReagentDose oncePerReagent(ReagentDose dose) {
		Map<Reagent, Double> known = new EnumMap<>(Reagent.class);
		return reagent -> known.computeIfAbsent(reagent, dose::of);
	}

	/** PH that acid would bring down again on the next visit by more than a test can tell. */
	static double acidFrom(PoolFacts pool) {
		Range range = pool.targets().range(Level.PH);
		return (range == null) ? Double.MAX_VALUE : trigger(range) + HALF_TEST_STEP;
	}

	private static double trigger(Range range) {
		return 0.5 * (range.idealHigh() + range.acceptableHigh());
	}

	/** By how much pH above the highest that is safe is to fall whatever the saturation index, as long as the water does not attack. */
	private static double fallFromHighest(Range acceptable, TreatedWater others) {
		double ph = others.settled().ph();
		return Math.min(ph - acceptable.acceptableHigh(), GAIN * (ph - PH_HIGHEST));
	}

	private DosingSequence.DosingGoal goal(Target target, ReagentDose dose) {
		return new DosingSequence.DosingGoal(Step.Purpose.LOWER_PH, target.cause(),
				(water, product) -> this.run.amount(product, dose.of(ProductEffects.reagent(product.kind().ingredient()))),
				this.context.nextVisitHours(),
				target.reason());
	}

	private Target target(Range acceptable, DosingRun trial, TreatedWater others) {
		Situation situation = this.context.situation();
		boolean scaleHaze = situation == Situation.CLOUDY && PoolCondition.SCALING.holds(this.context.request(), this.context.assessment());
		if (!situation.metal() && ((situation.growth() && this.pool.sanitizer().usesChlorine()) || scaleHaze
				|| (this.context.shock() != null && situation != Situation.CLOSING)
				|| trial.goesIn(ActiveIngredient.CALCIUM_HYPOCHLORITE))) {
			return new Target(this.context.water().water(), this.ph, PH_BEFORE_SHOCK, PH_SHOCK_AIM, Level.PH,
					Reason.of(scaleHaze ? "why.ph-scale" : "why.ph-before-chlorine",
							Term.of(Level.PH, this.ph), Term.of(Level.PH, PH_BEFORE_SHOCK)));
		}
		double aim = Math.min(PH_AIM, acceptable.idealHigh());
		boolean early = this.pool.sanitizer() == Sanitizer.SALT_CELL || situation == Situation.NEW_PLASTER;
		double trigger = early ? acceptable.idealHigh() : trigger(acceptable);
		double high = situation.metal() ? 1 : shareOfHighAlkalinity();
		aim -= high * (aim - PH_LEAST_AIM);
		trigger = Math.min(trigger, Math.max(aim + DEAD_BAND, trigger - high * (trigger - PH_BEFORE_SHOCK)));
		double toCome = indexToCome(trial, others.settled(), true);
		double scaling = others.indexAbove(aim) + toCome;
		if (situation.metal()) {
			aim = PH_LEAST_AIM;
		}
		else if (scaling > 0) {
			aim = Math.max(PH_LEAST_AIM, aim - scaling);
		}
		else {
			aim = Math.max(aim, Math.min(PH_MOST_AIM, aim + others.indexBelow(aim) - toCome));
		}
		aim = Math.max(aim, Math.min(PH_MOST_AIM, aim + fallByStabilizer(trial, others.settled(), aim)));
		trigger = Math.min(trigger, aim + DEAD_BAND);
		Water settled = withChlorineThatStays(others.settled(), trial.water().water().freeChlorine());
		Level cause = (high > 0.5 && !situation.metal()) ? Level.TA : Level.PH;
		return new Target(settled, settled.ph(), trigger, aim, cause,
				reason(acceptable, cause, scaling > 0 && this.ph <= acceptable.idealHigh(), settled.ph(), aim));
	}

	/**
	 * What else moves the saturation index of a water where pH is aimed at: salt of a cell, which nothing holds back, and hardness that goes in on
	 * another day; the acid for it then waits with it.
	 */
	private double indexToCome(DosingRun trial, Water settled, boolean hardness) {
		Water then = settled;
		for (DosingSequence.Addition addition : trial.additions()) {
			double amount = switch (addition.purpose()) {
				case RAISE_SALT -> addition.added();
				case RAISE_CH -> hardness ? addition.requiredAmount() - (this.run.hardnessWaits() ? 0 : addition.added()) : 0;
				default -> 0;
			};
			then = (amount > 0) ? ProductEffects.after(then, addition.product(), amount, this.context.litres()) : then;
		}
		return (then == settled) ? 0 : TreatedWater.index(then) - TreatedWater.index(settled);
	}

	/** Solid stabilizer is no acid of today, but leaves room for less of it: as much as it takes where pH is aimed at. */
	private double fallByStabilizer(DosingRun trial, Water settled, double aim) {
		Water at = settled.withPh(aim);
		Water dissolved = at;
		for (DosingSequence.Addition addition : trial.additions()) {
			if (addition.product().dissolvesSlowly()) {
				dissolved = ProductEffects.after(dissolved, addition.product(), addition.added(), this.context.litres());
			}
		}
		return (dissolved == at) ? 0 : aim - dissolved.ph();
	}

	private Reason reason(Range acceptable, Level cause, boolean scaling, double settled, double aim) {
		Range alkalinities = this.alkalinityRange;
		if (cause == Level.TA && alkalinities != null && this.alkalinity != null) {
			return Reason.of("why.ta-high", Term.of(Level.TA, this.alkalinity), Term.of(Level.TA, alkalinities.idealHigh()));
		}
		if (this.context.situation().metal()) {
			return Reason.of("why.ph-metal", Term.of(Level.PH, this.ph), Term.of(Level.PH, PH_LEAST_AIM));
		}
		if (!scaling && (this.ph <= acceptable.idealHigh() || !isSeen(this.ph, acceptable.idealHigh()))) {
			return Reason.of("why.ph-settles", Term.of(Level.PH, Math.max(settled, this.ph)), Term.of(Level.PH, aim));
		}
		return scaling ? Reason.of("why.ph-index", Term.of(Level.PH, this.ph))
				: Reason.of("why.ph-high", Term.of(Level.PH, this.ph), Term.of(Level.PH, acceptable.idealHigh()));
	}

	/** From the ideal high end of TA up to the acceptable one; zero while growth is treated or water waits to be replaced. */
	private double shareOfHighAlkalinity() {
		Range alkalinities = this.alkalinityRange;
		if (alkalinities == null || this.alkalinity == null || this.context.situation().growth() || this.context.replacement() != null) {
			return 0;
		}
		double start = alkalinities.idealHigh();
		return (alkalinities.acceptableHigh() > start)
				? Math.max(0, Math.min(1, (this.alkalinity - start) / (alkalinities.acceptableHigh() - start))) : 0;
	}

	/** Hypochlorite lifts pH only until it is used up: what is above the low end of the ideal range goes within days. */
	private Water withChlorineThatStays(Water settled, double chlorineToday) {
		Range chlorine = this.pool.targets().range(Level.FC);
		if (chlorine == null) {
			return settled;
		}
		return Dosing.spendChlorine(settled, settled.freeChlorine() - Math.min(chlorineToday, chlorine.idealLow()));
	}

	/** Where alkalinity is high, air lifts pH without lifting TA further; where it is low too, what lifts TA is counted in first. */
	void raise(DosingRun trial) {
		Range acceptable = this.range;
		if (acceptable == null || this.alkalinity == null || !isTrusted()) {
			return;
		}
		TreatedWater lifted = trial.treated(acceptable, true, false);
		// Alkalinity first: it lifts pH and index, and what would take them down waits for it. Else alkali puts it off.
		boolean alkalinityFirst = trial.goesIn(Step.Purpose.RAISE_TA) && lifted.settled().ph() >= acceptable.acceptableLow();
		TreatedWater others = alkalinityFirst ? lifted : trial.treated(acceptable, false, false);
		Water settled = others.settled();
		double lacking = others.indexBelow(acceptable.idealLow()) - indexToCome(trial, settled, false);
		double aim = Math.max(acceptable.idealLow(), Math.min(PH_MOST_AIM, acceptable.idealLow() + lacking));
		boolean low = this.ph < acceptable.acceptableLow() - 1e-9;
		double rise = Math.min(aim - settled.ph(), GAIN * (aim - DEAD_BAND - settled.ph()));
		boolean airLifts = this.alkalinityRange != null && this.alkalinity > this.alkalinityRange.idealHigh();
		if (airLifts) {
			// No more alkali than takes the water out of what corrodes.
			rise = PlanContext.PH_CORROSIVE - settled.ph();
		}
		else if (!low && this.context.balanceWaits() != null) {
			rise = 0;
		}
		if (airLifts && low && this.context.phMayRise()) {
			this.run.task("work.aerate");
		}
		// What else goes in must not take pH or index out of their limits, however little.
		rise = Math.max(rise, correction(others.tooLow()));
		if (trial.goesIn(Step.Purpose.RAISE_CYA)) {
			// Stabilizer is answered up to the usual aim; what it would take down beyond that waits.
			rise = Math.max(rise,
					Math.min(correction(trial.treated(acceptable, true, true).tooLow()), acceptable.idealLow() - settled.ph()));
		}
		if (!this.context.phMayRise()) {
			// Beside metal no more than what this plan takes, and only out of what corrodes.
			rise = (settled.ph() >= PlanContext.PH_CORROSIVE) ? 0
					: Math.min(correction(others.tooLow()), this.ph + MARGIN - settled.ph());
		}
		if (rise < HALF_TEST_STEP - 1e-9) {
			return;
		}
		double target = settled.ph() + rise;
		DosingSequence.DosingGoal goal = new DosingSequence.DosingGoal(Step.Purpose.RAISE_PH, Level.PH, (water, product) -> {
			Reagent alkali = ProductEffects.reagent(product.kind().ingredient());
			// Whatever it settles to, the water it goes into stays in range today.
			double today = TreatedWater.dose(water.water(), alkali, acceptable.acceptableHigh() - HALF_TEST_STEP);
			return this.run.amount(product, others.mostAlkali(alkali, Math.min(today, TreatedWater.dose(settled, alkali, target))));
		}, this.context.nextVisitHours(),
				low ? Reason.of("why.ph-low", Term.of(Level.PH, this.ph), Term.of(Level.PH, acceptable.acceptableLow()))
						: isSeen(settled.ph(), target)
								? Reason.of("why.ph-settles-low", Term.of(Level.PH, settled.ph()), Term.of(Level.PH, target))
								: Reason.of("why.ph-keeps"));
		if (alkalinityFirst) {
			this.run.later(goal, this.context.nextVisitHours(), "later.ph-after-alkalinity");
			return;
		}
		if (trial.goesIn(Step.Purpose.RAISE_TA)) {
			this.run.note("note.ph-before-alkalinity");
		}
		this.run.add(goal);
	}

	/** On the scale of a test. */
	private static boolean isSeen(double from, double to) {
		return Math.round(10 * from) != Math.round(10 * to);
	}

	private static double correction(double tooLow) {
		return (tooLow > LEAST_CORRECTION) ? tooLow + MARGIN : 0;
	}

	/** A colour test of pH reads too high above a certain FC: no dose on it. */
	private boolean isTrusted() {
		Double fc = this.readings.fc();
		return fc == null || fc <= ReadingCheck.FC_PH_INTERFERENCE;
	}

}
