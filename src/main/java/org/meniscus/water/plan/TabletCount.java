package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.IntFunction;
import java.util.function.IntPredicate;

import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.Product;

/**
 * How many tablets are worth trying at a pool whose floater or feeder the service fills. Between too few to hold chlorine with today's
 * dose and enough to hold it without one, cost changes nearly evenly, so a few counts stand for all.
 */
final class TabletCount {

	/** What a floater takes; common practice, no source. */
	private static final int MAX_IN_FLOATER = 5;

	/** What a feeder takes; common practice, no source. */
	private static final int MAX_IN_FEEDER = 12;

	private TabletCount() {
	}

	/** Counts to try beside none, smallest first; none where no tablets may go in or today's chlorine holds already. @param cya ppm */
	static List<Integer> candidates(PlanRequest request, TabletSupply supply, double cya, double litres) {
		ResidualTarget without = supply.residualTarget();
		if (supply.tablets() == null || without == null || without.isMet()) {
			return List.of();
		}
		IntFunction<ResidualTarget> target = count -> Objects.requireNonNull(supply.with(count).residualTarget());
		int maximum = maximum(request, supply.tablets(), cya, litres, target);
		if (maximum == 0) {
			return List.of();
		}
		int minimum = Math.max(1, smallest(maximum, count -> target.apply(count).isHeld(without.ceiling())));
		int alone = smallest(maximum, count -> target.apply(count).isMet());
		List<Integer> counts = new ArrayList<>();
		for (int count : new int[]{ minimum, (minimum + alone) / 2, alone }) {
			if (count > 0 && !counts.contains(count)) {
				counts.add(count);
			}
		}
		return counts;
	}

	private static int maximum(PlanRequest request, Product tablets, double cya, double litres, IntFunction<ResidualTarget> target) {
		DissolvingTablets dissolving = request.forecast().tablets();
		double perTablet = TabletSupply.fc(tablets, 1, litres);
		if (dissolving == null || !(perTablet > 0)) {
			return 0;
		}
		double limit = DissolvingTablets.cyaLimit(request.pool());
		// A CYA carried from an earlier test has what was put in since counted in, dissolved or not; one of today has not.
		double dissolvingFc = (request.readings().cya() != null) ? dissolving.undissolved() : 0;
		double room = (limit - cya) / Stoichiometry.CYA_PER_TRICHLOR_CHLORINE - dissolvingFc;
		double capacity = perTablet * ((request.pool().sanitizer() == Sanitizer.FLOATER) ? MAX_IN_FLOATER : MAX_IN_FEEDER)
				- dissolving.undissolved();
		int maximum = (int) Math.max(0, Math.floor(Math.min(capacity, room) / perTablet + 1e-9));
		return smallest(maximum, count -> target.apply(count + 1).isOverfed());
	}

	/** The smallest count that does, from none on; the largest when none does. Twice as many never do less. */
	private static int smallest(int maximum, IntPredicate condition) {
		int low = 0;
		int high = maximum;
		while (low < high) {
			int middle = (low + high) / 2;
			if (condition.test(middle)) {
				high = middle;
			}
			else {
				low = middle + 1;
			}
		}
		return high;
	}

}
