package org.meniscus.water.plan;

import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Mass;

/** The non-chlorine oxidizer: a weekly refresh, and combined chlorine that is not answered by superchlorination. */
final class OxidizerDosing {

	/** Usual dose: 1 lb of product per 10,000 US gal, ppm of product; common practice, no source. */
	private static final double USUAL_PPM = Mass.GRAMS_PER_POUND * 1000 / ProductKind.LITRES_PER_10000_GALLONS;

	private static final double USUAL_STRENGTH = 0.428;

	private static final double RETRY_HOURS = 24;

	private final DosingRun run;

	OxidizerDosing(DosingRun run) {
		this.run = run;
	}

	void dose() {
		PlanContext context = this.run.context();
		Double combined = context.readings().combined();
		boolean refresh = context.situation() == Situation.WEEKLY_REFRESH;
		boolean insteadOfShock = context.situation() == Situation.HIGH_COMBINED_CHLORINE
				|| PoolCondition.COMBINED_HIGH.holds(context.request(), context.assessment());
		if (context.shock() != null || (!refresh && !insteadOfShock)) {
			return;
		}
		double usual = USUAL_PPM * USUAL_STRENGTH;
		double required = (combined != null) ? Math.max(usual, combined * Breakpoint.MONOPERSULFATE_PER_COMBINED) : usual;
		DosingSequence.DosingGoal.RequiredAmount amount = (water, product) -> amount(product, required);
		this.run.add((combined != null && combined > 0)
				? new DosingSequence.DosingGoal(Step.Purpose.OXIDIZE, Level.CC, amount, RETRY_HOURS,
						Reason.of("why.combined", Term.of(Level.CC, combined)))
				: new DosingSequence.DosingGoal(Step.Purpose.OXIDIZE, null, amount, RETRY_HOURS, Reason.of("why.weekly-refresh")));
	}

	/** One dose a visit, within its cap: the test next time says whether there is more to do. */
	private double amount(Product product, double required) {
		Double cap = product.mostFor(this.run.context().litres());
		double amount = this.run.amount(product, required);
		return (cap != null) ? Math.min(cap, amount) : amount;
	}

}
