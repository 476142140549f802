package org.meniscus.water.plan;

import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ShockLevel;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;

/** Free chlorine: superchlorination where the situation asks for it, else enough to last until the next visit, and tablets. */
final class ChlorineDosing {

	/** FC that dissolving tablets have still to bring, ppm, from which it is said that it is counted on. */
	private static final double TABLET_FC_NOTED = 0.3;

	/** Less is none that a test shows, ppm FC. */
	private static final double LEAST_RISE = 0.1;

	/** Hours until what a cap leaves over may go in. */
	private static final double RETRY_HOURS = 24;

	private static final double RETRY_HOURS_SMALL_POOL = 1;

	/** Hours that people who come are taken to stay; common practice, no source. */
	private static final double SWIMMING_HOURS = 3;

	private final DosingRun run;

	private final PlanContext context;

	private final PoolFacts pool;

	private final TreatmentPolicy policy;

	private final double fc;

	/** FC to be held, ppm. */
	private final double minimum;

	/** FC below which no pool is left, ppm: {@link Assessor#fcToReach}. */
	private final double reach;

	ChlorineDosing(DosingRun run) {
		this.run = run;
		this.context = run.context();
		this.pool = this.context.pool();
		this.policy = this.context.request().policy();
		this.fc = run.water().water().freeChlorine();
		Double toHold = this.context.assessment().fcToHold();
		this.minimum = (toHold != null) ? toHold : 0;
		this.reach = Assessor.fcToReach(this.pool, this.context.effectiveReadings(), this.policy);
	}

	void dose() {
		ShockLevel shock = this.context.shock();
		if (shock != null) {
			superchlorinate(shock);
			return;
		}
		Double protecting = this.context.assessment().fcMinimum();
		if (protecting != null && Assessor.minimumPassesCeiling(protecting, this.policy.fcCeiling())) {
			this.run.note(Reason.of("note.no-room", Term.of(Level.FC, protecting), Term.of(Level.FC, this.policy.fcCeiling())));
		}
		if (PoolCondition.FC_TOO_HIGH.holds(this.context.request(), this.context.assessment())) {
			this.run.note(Reason.of("note.fc-too-high", Term.of(Level.FC, this.fc), Term.of(Level.FC, this.policy.swimCeiling())));
		}
		if (this.fc > this.policy.swimCeiling() + 1e-9) {
			return;
		}
		ResidualTarget target = this.run.residualTarget();
		if (target == null) {
			return;
		}
		Reason tablets = target.tabletsFromHistory(this.context.litres());
		if (tablets != null) {
			this.run.note(Plan.Note.earlierVisits(tablets));
		}
		if (!target.isMet()) {
			sayLeastWithoutStabilizer();
		}
		boolean metal = this.context.holdsMetal();
		// A test may be wrong by as much as the target is missed, but not below what protects the water.
		boolean lacking = !target.isMet() || this.fc < this.reach - 1e-9;
		if (metal ? this.fc < aim(target) - 1e-9 : lacking) {
			raiseToTarget(target);
		}
		if (metal && !target.isMet() && this.context.shockLater() == null) {
			this.run.later(new FollowUpStep(RETRY_HOURS, null, null,
					Reason.of("later.chlorine-after-metal", Term.of(Level.FC, target.targetFc()))));
		}
		feedTablets();
	}

	/** The first trace of stabilizer doubles what the model code asks for, and with it perhaps the dose. */
	private void sayLeastWithoutStabilizer() {
		Readings readings = this.context.readings();
		Double cya = readings.cya();
		double least = Assessor.fcToSwim(this.pool, readings);
		double stabilized = Assessor.fcToSwim(this.pool, readings.toBuilder().cya(1.0).build());
		if (cya != null && stabilized > least + 1e-9) {
			this.run.note(Reason.of("note.without-stabilizer", Term.of(Level.FC, least), Term.of(Level.FC, stabilized)));
		}
	}

	private void superchlorinate(ShockLevel shock) {
		Double combined = this.context.readings().combined();
		double ammonia = this.context.chlorineForAmmonia();
		double required = shock.fc(this.run.water().water()) + ((combined != null) ? combined * Breakpoint.FREE_PER_COMBINED : 0) + ammonia;
		ResidualTarget target = this.run.residualTarget();
		if (target != null) {
			// Never less than an ordinary visit would bring.
			sayLeastWithoutStabilizer();
			required = Math.max(required, target.targetFc());
		}
		double aim = shockAim(required, shock);
		if (aim - this.fc < LEAST_RISE) {
			return;
		}
		if (ammonia > 0 && this.context.situation() != Situation.STABILIZER_GONE) {
			this.run.task("work.ammonia-repeat");
			if (this.context.situation() != Situation.HIGH_COMBINED_CHLORINE) {
				this.run.task(TraceDosing.ammoniaDemand(this.context));
			}
			if (PoolCondition.AMMONIA_MAY_BE_MUCH.holds(this.context.request(), this.context.assessment())) {
				this.run.task("work.ammonia-replace");
			}
			this.run.test(SituationProcedure.NEXT_MORNING, "later.ammonia-again");
		}
		this.run.add(goal((water, product) -> this.run.amount(product, Math.max(0, aim - water.water().freeChlorine())),
				this.policy.shockCeiling(),
				this.context.treatsInNewWater() ? Reason.of("why.growth-in-old-water", Term.of(Level.FC, this.fc), Term.of(Level.FC, aim))
						: Reason.of("why." + Wording.code(shockedFor()), Term.of(Level.FC, this.fc), Term.of(Level.FC, aim),
								Term.of(Level.HOCL, activeChlorine(shock)))));
	}

	/** Hypochlorous acid of the FC asked for, ppm: more than the level names where a label's lower figure gives more. */
	private double activeChlorine(ShockLevel shock) {
		Water water = this.run.water().water();
		return Speciation.of(water.withFreeChlorine(shock.fc(water))).hocl();
	}

	/** FC to dose to, within ceiling and label; where it is less than required the plan says why. */
	private double shockAim(double required, ShockLevel shock) {
		double ceiling = this.policy.shockCeiling();
		double label = this.run.labelledFc();
		// The level of a treatment is what the label allows in all; what any visit brings may take more, the rest a day later.
		ResidualTarget target = this.run.residualTarget();
		double usual = (target == null) ? this.reach : Math.max(this.reach, target.targetFc());
		double aim = Math.max(Math.min(Math.min(required, ceiling), label), Math.min(usual, ceiling));
		Term needed = Term.of(Level.FC, required);
		if (this.context.treatsInNewWater()) {
			this.run.note("note.growth-in-new-water");
			boolean metal = PoolCondition.METAL_TO_HOLD.holds(this.context.request(), this.context.assessment());
			return Math.min(aim, metal ? this.policy.fcCeiling() : Math.max(this.policy.fcCeiling(), shock.least()));
		}
		if (this.context.chlorineForAmmonia() > 0 && required > aim + 1e-9) {
			this.run.note(Reason.of("note.ammonia-in-parts", needed, Term.of(Level.FC, aim)));
		}
		else if (required > ceiling + 1e-9) {
			this.run.note(Reason.of("note.shock-ceiling", needed, Term.of(Level.FC, ceiling)));
		}
		if (label < Math.min(required, ceiling) - 1e-9) {
			this.run.note(Reason.of("note.shock-label", Term.of(Level.FC, label), needed));
		}
		return aim;
	}

	/** Ammonia and high CC may ask for it on any visit. */
	private Situation shockedFor() {
		return (this.context.chlorineForAmmonia() > 0) ? Situation.STABILIZER_GONE
				: (this.context.procedure().shockLevel() != null) ? this.context.situation() : Situation.HIGH_COMBINED_CHLORINE;
	}

	private void raiseToTarget(ResidualTarget target) {
		Product waiting = this.run.selector().allowed(Step.Purpose.RAISE_FC, this.run.water()).isEmpty()
				? this.run.selector().afterSwimming(this.run.water()) : null;
		Double hours = this.context.request().swimWithinHours();
		if (waiting != null && hours != null) {
			double amount = amountToTarget(this.run.water(), waiting, target);
			Double most = waiting.mostFor(this.context.litres());
			MeasuredAmount measured = MeasuredAmount.down((most != null) ? Math.min(most, amount) : amount, waiting,
					this.context.request().units());
			if (!measured.isZero()) {
				this.run.later(new FollowUpStep(hours + SWIMMING_HOURS, waiting, measured,
						Reason.of("later.after-swimming", Term.of(waiting.kind()), Term.of(Level.FC, target.targetFc()))));
			}
			return;
		}
		this.run.add(goal((water, product) -> amountToTarget(water, product, target), target.ceiling(), reason(target)));
		if (this.pool.sanitizer() == Sanitizer.SALT_CELL) {
			this.run.note("note.cell-boost-slow");
		}
	}

	private DosingSequence.DosingGoal goal(DosingSequence.DosingGoal.RequiredAmount amount, double ceiling, Reason reason) {
		return new DosingSequence.DosingGoal(Step.Purpose.RAISE_FC, Level.FC, amount, ceiling,
				this.pool.small() ? RETRY_HOURS_SMALL_POOL : RETRY_HOURS,
				reason);
	}

	/** The target, beside metal no more than protects the pool, in water that is replaced no more than the ceiling, ppm. */
	private double aim(ResidualTarget target) {
		Double protecting = this.context.assessment().fcMinimum();
		if (this.context.holdsMetal() && protecting != null) {
			return Math.min(protecting, target.targetFc());
		}
		boolean metal = PoolCondition.METAL_TO_HOLD.holds(this.context.request(), this.context.assessment());
		return metal ? Math.min(this.policy.fcCeiling(), target.targetFc()) : target.targetFc();
	}

	/** Amount up to the target, and up to the minimum that stabilizer in this product asks for. */
	private double amountToTarget(PoolWater water, Product product, ResidualTarget target) {
		double lacking = Math.max(0, aim(target) - water.water().freeChlorine());
		double cyaPerChlorine = ProductEffects.lasting(product.kind().ingredient(), 1).getOrDefault(Level.CYA, 0.0);
		if (cyaPerChlorine > 0) {
			double rise = (reachWithCya(cyaPerChlorine * lacking) - this.reach) / (1 - cyaPerChlorine / this.policy.cyaPerFc());
			lacking = Math.min(lacking + rise, Math.max(lacking, target.ceiling() - water.water().freeChlorine()));
		}
		return this.run.amount(product, lacking);
	}

	/** @param more CYA, ppm */
	private double reachWithCya(double more) {
		Readings readings = this.context.effectiveReadings();
		Double cya = readings.cya();
		return (cya == null) ? this.reach
				: Math.max(this.reach, Assessor.fcToReach(this.pool, readings.toBuilder().cya(cya + more).build(), this.policy));
	}

	private Reason reason(ResidualTarget target) {
		int days = this.context.request().daysToNextVisit();
		if (this.fc < this.minimum - 1e-9) {
			return Reason.of("why.fc-below-minimum", Term.of(Level.FC, this.fc), Term.of(Level.FC, this.minimum));
		}
		if (days == 0) {
			return Reason.of("why.fc-below-ideal", Term.of(Level.FC, this.fc), Term.of(Level.FC, target.targetFc()));
		}
		return Reason.of("why.fc-to-next-visit", Term.of(Level.FC, this.fc), Term.of(Level.FC, target.targetFc()), new Term.Days(days));
	}

	/** Tablets where the plan decides on them: how many, or why none. */
	private void feedTablets() {
		DissolvingTablets dissolving = this.context.request().forecast().tablets();
		int days = this.context.request().daysToNextVisit();
		if (dissolving == null || days == 0) {
			return;
		}
		if (dissolving.undissolved() > TABLET_FC_NOTED) {
			this.run.note(Reason.of("note.tablets-dissolving", Term.of(Level.FC, dissolving.dissolvedWithin(days)), new Term.Days(days)));
		}
		TabletSupply supply = this.run.tabletSupply();
		if (supply.tablets() == null || this.run.assignment().tablets() > 0) {
			double ppm = supply.fc();
			this.run.add(new DosingSequence.DosingGoal(Step.Purpose.FEED, Level.FC, (water, product) -> this.run.amount(product, ppm),
					RETRY_HOURS,
					Reason.of("why.tablets", Term.of(Level.FC, ppm / DissolvingTablets.DISSOLVING_DAYS),
							new Term.Days(DissolvingTablets.DISSOLVING_DAYS),
							Term.of(Level.CYA, ppm * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE))));
		}
	}

}
