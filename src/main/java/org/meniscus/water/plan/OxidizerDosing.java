package org.meniscus.water.plan;

import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Mass;

/**
 * What oxidizes and is no chlorine for the water: the non-chlorine oxidizer as a weekly refresh and against combined chlorine that is not
 * answered by superchlorination, and what makes bromine of bromide.
 */
final class OxidizerDosing {

	/** Usual dose: 1 lb of product per 10,000 US gal, ppm of product; common practice, no source. */
	private static final double USUAL_PPM = Mass.GRAMS_PER_POUND * 1000 / ProductKind.LITRES_PER_10000_GALLONS;

	private static final double USUAL_STRENGTH = 0.428;

	private static final double RETRY_HOURS = 24;

	/** Bromine against growth, ppm: as much as 4.4 ppm of chlorine, none of it bound by stabilizer; common practice, no source. */
	private static final double BROMINE_FOR_GROWTH = 10;

	private final DosingRun run;

	OxidizerDosing(DosingRun run) {
		this.run = run;
	}

	void dose() {
		PlanContext context = this.run.context();
		Double combined = context.readings().combined();
		boolean refresh = context.situation() == Situation.WEEKLY_REFRESH;
		boolean high = PoolCondition.COMBINED_HIGH.holds(context.request(), context.assessment());
		if (refresh && combined != null && !high) {
			this.run.note(Reason.of("note.no-oxidizer", Term.of(Level.CC, combined)));
		}
		if (context.shock() != null || context.situation().metal() || context.holdsMetal()
				|| !(high || context.situation() == Situation.HIGH_COMBINED_CHLORINE)) {
			return;
		}
		DosingSequence.DosingGoal.RequiredAmount amount = (water, product) -> amount(product, (combined != null) ? combined : 0,
				context.litres());
		this.run.add((combined != null && combined > 0)
				? new DosingSequence.DosingGoal(Step.Purpose.OXIDIZE, Level.CC, amount, RETRY_HOURS,
						Reason.of("why.combined", Term.of(Level.CC, combined)))
				: new DosingSequence.DosingGoal(Step.Purpose.OXIDIZE, null, amount, RETRY_HOURS, Reason.of("why.weekly-refresh")));
	}

	/**
	 * Of the oxidizer against so much CC: the usual dose of labels for what bathers leave and what CC takes by stoichiometry on top, within the
	 * label's maximum. One dose a visit: the test next time says whether there is more to do.
	 */
	static double amount(Product product, double combined, double litres) {
		double wanted = ProductEffects.amount(product, USUAL_PPM * USUAL_STRENGTH + combined * Breakpoint.MONOPERSULFATE_PER_COMBINED,
				litres);
		Double most = product.mostFor(litres);
		return (most != null) ? Math.min(most, wanted) : wanted;
	}

	/**
	 * In a bromine pool: chlorine or oxidizer turns bromide into bromine, to what holds until the next visit, against growth to as much as
	 * chlorine's label levels are without stabilizer.
	 */
	void makeBromine() {
		PlanContext context = this.run.context();
		Double bromine = context.readings().bromine();
		Range range = context.pool().targets().range(Level.BROMINE);
		if (bromine == null || range == null) {
			return;
		}
		boolean growth = context.situation().growth();
		if (bromine > range.acceptableHigh() + 1e-9 && !growth) {
			this.run
				.note(Reason.of("note.bromine-too-high", Term.of(Level.BROMINE, bromine), Term.of(Level.BROMINE, range.acceptableHigh())));
		}
		ResidualTarget target = ResidualTarget.ofBromine(context.request(), range, bromine);
		double aim = growth ? BROMINE_FOR_GROWTH : target.targetFc() * ResidualTarget.BROMINE;
		if (growth ? bromine >= aim - 1e-9 : target.isMet()) {
			return;
		}
		this.run.add(new DosingSequence.DosingGoal(Step.Purpose.RAISE_BROMINE, Level.BROMINE, (water, product) -> {
			double each = ProductEffects.bromine(product, 1, context.litres());
			Double now = water.bromine();
			return (aim - ((now != null) ? now : bromine)) / each;
		}, RETRY_HOURS, growth ? Reason.of("why.bromine-growth", Term.of(Level.BROMINE, bromine), Term.of(Level.BROMINE, aim))
				: (bromine < range.acceptableLow() - 1e-9)
						? Reason.of("why.bromine-low", Term.of(Level.BROMINE, bromine), Term.of(Level.BROMINE, range.acceptableLow()),
								Term.of(Level.BROMINE, aim))
						: Reason.of("why.bromine-to-next-visit", Term.of(Level.BROMINE, bromine), Term.of(Level.BROMINE, aim),
								new Term.Days(context.request().daysToNextVisit()))));
		this.run.task(context.pool().equipment().systems().contains(Equipment.SecondSystem.OZONE) ? "work.bromide-missing-ozone"
				: (context.pool().indoor() || context.pool().body() == BodyOfWater.SPA) ? "work.bromide-missing"
						: "work.bromide-missing-outdoors");
	}

}
