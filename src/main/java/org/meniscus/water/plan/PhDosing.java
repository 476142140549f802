package org.meniscus.water.plan;

import java.util.List;
import java.util.OptionalDouble;

import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;

/** Acid and alkali: to what pH, from where on. Aims and triggers are common practice, no source, unless named. */
final class PhDosing {

	/** PH aimed at by acid on an ordinary visit; the middle of the ideal range. */
	static final double PH_AIM = 7.5;

	/** PH to start from before superchlorination and calcium hypochlorite: 7.2 to 7.4 (labels of generic calcium hypochlorite). */
	private static final double PH_BEFORE_SHOCK = ProductSelector.PH_CALCIUM_HYPOCHLORITE;

	private static final double PH_SHOCK_AIM = 7.3;

	/** PH that acid goes down to when TA is to fall: acid, then aeration. */
	private static final double PH_AIM_FOR_TA = 7.2;

	/** Below it the pH is lifted even where alkalinity, low too, will lift it on its own. */
	private static final double PH_CORROSIVE = 7.0;

	/** Half a step of a pH test: what it shows as the trigger is not above it. */
	private static final double HALF_TEST_STEP = 0.05;

	private static final double RETRY_HOURS = 4;

	/** @param measured pH that is held against the trigger */
	private record Target(double measured, double trigger, double aim, Level cause, Reason reason) {
	}

	private final DosingRun run;

	private final PlanContext context;

	private final PoolFacts pool;

	private final Readings readings;

	private final double ph;

	PhDosing(DosingRun run) {
		this.run = run;
		this.context = run.context();
		this.pool = this.context.pool();
		this.readings = this.context.readings();
		Double tested = this.readings.ph();
		this.ph = (tested != null) ? tested : PH_AIM;
	}

	void lower() {
		Range range = this.pool.targets().range(Level.PH);
		Double alkalinity = this.context.effectiveReadings().ta();
		if (range == null || alkalinity == null || !isTrusted()) {
			return;
		}
		Target target = target(range);
		Range alkalinityRange = this.pool.targets().range(Level.TA);
		if (alkalinityRange != null && alkalinity > 0.5 * (alkalinityRange.idealHigh() + alkalinityRange.acceptableHigh())
				&& !this.context.situation().growth()) {
			target = new Target(this.ph, Math.min(target.trigger(), PH_BEFORE_SHOCK), PH_AIM_FOR_TA, Level.TA,
					Reason.of("why.ta-high", Term.of(Level.TA, alkalinity), Term.of(Level.TA, alkalinityRange.idealHigh())));
			this.run.task("work.aerate-for-ta");
		}
		if (target.measured() < target.trigger() + HALF_TEST_STEP - 1e-9) {
			return;
		}
		double aim = target.aim();
		this.run
			.add(new DosingSequence.DosingGoal(Step.Purpose.LOWER_PH, target.cause(), (water, product) -> amountForPh(water, product, aim),
					RETRY_HOURS,
					target.reason()));
	}

	private Target target(Range range) {
		Situation situation = this.context.situation();
		boolean scaleHaze = situation == Situation.CLOUDY && PoolCondition.SCALING.holds(this.context.request(), this.context.assessment());
		if (situation.growth() || scaleHaze || (this.context.shock() != null && situation != Situation.CLOSING)
				|| calciumHypochloriteFollows()) {
			return new Target(this.ph, PH_BEFORE_SHOCK, PH_SHOCK_AIM, Level.PH,
					Reason.of(scaleHaze ? "why.ph-scale" : "why.ph-before-chlorine",
							Term.of(Level.PH, this.ph), Term.of(Level.PH, PH_BEFORE_SHOCK)));
		}
		double trigger = (this.pool.sanitizer() == Sanitizer.SALT_CELL || situation == Situation.NEW_PLASTER) ? range.idealHigh()
				: 0.5 * (range.idealHigh() + range.acceptableHigh());
		return new Target(phOnceExcessChlorineIsUsedUp(), trigger, Math.min(PH_AIM, range.idealHigh()), Level.PH,
				Reason.of("why.ph-high", Term.of(Level.PH, this.ph), Term.of(Level.PH, range.idealHigh())));
	}

	/** Hypochlorite that went in a while ago lifts pH only until it is used up. */
	private double phOnceExcessChlorineIsUsedUp() {
		Range range = this.pool.targets().range(Level.FC);
		Double fc = this.readings.fc();
		if (range == null || fc == null || fc <= range.idealHigh()) {
			return this.ph;
		}
		return Dosing.spendChlorine(this.context.water().water(), fc - range.idealHigh()).ph();
	}

	private boolean calciumHypochloriteFollows() {
		ResidualTarget residual = this.run.residualTarget();
		boolean chlorineGoesIn = this.context.shock() != null || (residual != null && !residual.isMet());
		if (!this.pool.sanitizer().usesChlorine() || this.readings.fc() == null || !chlorineGoesIn) {
			return false;
		}
		List<ProductSelector.RankedProduct> allowed = this.run.selector()
			.allowed(Step.Purpose.RAISE_FC, this.run.water().withPh(PH_SHOCK_AIM));
		return !allowed.isEmpty() && allowed.get(0).product().kind().ingredient() == ActiveIngredient.CALCIUM_HYPOCHLORITE;
	}

	/** Where alkalinity is high, air lifts pH without lifting TA further; where it is low too, what lifts TA lifts pH. */
	void raise() {
		Range range = this.pool.targets().range(Level.PH);
		Range alkalinityRange = this.pool.targets().range(Level.TA);
		Double alkalinity = this.context.effectiveReadings().ta();
		if (range == null || alkalinity == null || !isTrusted() || !(this.ph < range.acceptableLow() - 1e-9)) {
			return;
		}
		Double testedAlkalinity = this.readings.ta();
		boolean alkalinityRaised = testedAlkalinity != null && alkalinityRange != null
				&& testedAlkalinity < alkalinityRange.halfwayLow() - 1e-9;
		if (alkalinityRange != null && alkalinity > alkalinityRange.idealHigh()) {
			this.run.task("work.aerate");
		}
		else if (!alkalinityRaised || this.ph < PH_CORROSIVE) {
			this.run.add(new DosingSequence.DosingGoal(Step.Purpose.RAISE_PH, Level.PH,
					(water, product) -> amountForPh(water, product, range.idealLow()), RETRY_HOURS,
					Reason.of("why.ph-low", Term.of(Level.PH, this.ph), Term.of(Level.PH, range.acceptableLow()))));
		}
	}

	/** A colour test of pH reads too high above a certain FC: no dose on it. */
	private boolean isTrusted() {
		Double fc = this.readings.fc();
		return fc == null || fc <= ReadingCheck.FC_PH_INTERFERENCE;
	}

	/** Amount that brings the water to a pH; zero when it is there or this product cannot bring it there. */
	private double amountForPh(PoolWater water, Product product, double target) {
		Reagent reagent = ProductEffects.reagent(product.kind().ingredient());
		double current = water.water().ph();
		if (product.kind().ingredient().acid() ? current <= target : current >= target) {
			return 0;
		}
		OptionalDouble dose = Dosing.doseForPh(water.water(), reagent, target);
		return dose.isPresent() ? this.run.amount(product, dose.getAsDouble()) : 0;
	}

}
