package org.meniscus.water.plan;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.product.Product;

/**
 * What one pass through all goals with one assignment of products comes to.
 *
 * @param water after all additions
 * @param shares of its doses that pH and saturation index can take today
 * @param beyondLimits how far the settled water is beyond what pH and saturation index may come to, zero within the error of a test
 * @param postponed how many doses a gap puts off to the next stop
 * @param deferredDoses what waits for another day
 * @param followUps those doses and the tests that go with them
 * @param rejected products for goals that nothing allowed here serves
 * @param missing products for goals that nothing along serves
 * @param notes about how it is dosed
 * @param tasks work that stands in for a dose or goes with one
 */
record DosingResult(List<DosingSequence.Addition> additions, PoolWater water, BalanceDosing.Shares shares, double beyondLimits,
		int postponed,
		List<DeferredDose> deferredDoses,
		List<FollowUpStep> followUps,
		List<Step.Alternative> rejected, List<Plan.MissingProduct> missing, List<Plan.Note> notes, List<Reason> tasks) {

	/** Grams or millilitres before rounding. */
	record DeferredDose(Product product, double amount) {
	}

	DosingResult {
		additions = List.copyOf(additions);
		deferredDoses = List.copyOf(deferredDoses);
		followUps = List.copyOf(followUps);
		rejected = List.copyOf(rejected);
		missing = List.copyOf(missing);
		notes = List.copyOf(notes);
		tasks = List.copyOf(tasks);
	}

	/** FC after all additions, ppm. */
	double freeChlorine() {
		return this.water.water().freeChlorine();
	}

	/** The product that went in for a purpose; null when none did. */
	@Nullable
	Product productFor(Step.Purpose purpose) {
		for (DosingSequence.Addition addition : this.additions) {
			if (addition.purpose() == purpose) {
				return addition.product();
			}
		}
		return null;
	}

}
