package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.IntFunction;
import java.util.function.IntPredicate;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;

/** Chlorine from today to the next visit with so many tablets put into floater or feeder today; worked out once for each count. */
final class TabletSupply {

	/** What a floater takes; common practice, no source. */
	private static final int MAX_IN_FLOATER = 5;

	/** What a feeder takes; common practice, no source. */
	private static final int MAX_IN_FEEDER = 12;

	private final PlanRequest request;

	private final Assessment assessment;

	private final @Nullable Product tablets;

	private final double litres;

	private final int count;

	private final PoolForecast forecast;

	private final @Nullable ResidualTarget residualTarget;

	/** By count, this one too. */
	private final Map<Integer, TabletSupply> byCount;

	private TabletSupply(PlanRequest request, Assessment assessment, @Nullable Product tablets, double litres, int count,
			Map<Integer, TabletSupply> byCount) {
		this.request = request;
		this.assessment = assessment;
		this.tablets = tablets;
		this.litres = litres;
		this.count = count;
		this.byCount = byCount;
		this.forecast = request.forecast().withTabletsAdded(fc(), request.daysToNextVisit());
		this.residualTarget = computeResidualTarget();
	}

	/** Without any. @param tablets that may go in; null where none may, or where a plan does not decide on them */
	static TabletSupply of(PlanRequest request, Assessment assessment, @Nullable Product tablets, double litres) {
		Map<Integer, TabletSupply> byCount = new HashMap<>();
		TabletSupply none = new TabletSupply(request, assessment, tablets, litres, 0, byCount);
		byCount.put(0, none);
		return none;
	}

	TabletSupply with(int count) {
		return this.byCount.computeIfAbsent(count,
				other -> new TabletSupply(this.request, this.assessment, this.tablets, this.litres, other, this.byCount));
	}

	@Nullable
	Product tablets() {
		return this.tablets;
	}

	/** What is known of the time ahead, today's tablets counted in. */
	PoolForecast forecast() {
		return this.forecast;
	}

	/** Null in a pool whose chlorine has no range. */
	@Nullable
	ResidualTarget residualTarget() {
		return this.residualTarget;
	}

	/** FC that today's tablets bring in all, ppm. */
	double fc() {
		return (this.tablets == null) ? 0 : fc(this.tablets, this.count, this.litres);
	}

	/** FC that so many tablets bring in all, ppm. */
	static double fc(Product tablets, int count, double litres) {
		Double grams = tablets.tabletGrams();
		return (grams == null || count == 0) ? 0 : ProductEffects.concentration(tablets, count * grams, litres);
	}

	/**
	 * FC that is still there at the next visit, tablets that have not dissolved by then counted in, beyond what doing nothing leaves, ppm; zero
	 * where plans do not differ in it.
	 */
	double fcCarriedOver(double now, double after) {
		return (this.forecast.tablets() == null || this.request.daysToNextVisit() == 0) ? 0
				: remainingFc(this.forecast, after) - remainingFc(with(0).forecast, now);
	}

	private double remainingFc(PoolForecast forecast, double fc) {
		int days = this.request.daysToNextVisit();
		DissolvingTablets dissolving = forecast.tablets();
		return forecast.demand().expected(fc, days)
				+ ((dissolving == null) ? 0 : dissolving.undissolved() - dissolving.dissolvedWithin(days));
	}

	/** By how much the chance that chlorine holds misses the one asked for, from this FC. */
	double shortfall(double fc) {
		return (this.residualTarget == null) ? 0 : this.residualTarget.shortfall(fc);
	}

	private @Nullable ResidualTarget computeResidualTarget() {
		Double minimum = this.assessment.fcMinimum();
		LevelState state = this.assessment.state(Level.FC);
		Double fc = this.request.readings().fc();
		if (minimum == null || state == null || fc == null) {
			return null;
		}
		DissolvingTablets dissolving = this.forecast.tablets();
		double cya = (dissolving == null) ? 0
				: dissolving.dissolvedWithin(this.request.daysToNextVisit()) * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
		return new ResidualTarget(this.request, this.forecast, minimumWithCya(minimum, cya), fc, state.range().idealLow());
	}

	/** Lowest FC once so much stabilizer has come with chlorine. @param cya ppm */
	double minimumWithCya(double minimum, double cya) {
		Readings working = this.request.effectiveReadings();
		Double current = working.cya();
		return (current == null || !(cya > 0)) ? minimum
				: Math.max(minimum,
						Assessor.fcMinimum(this.request.pool(), working.toBuilder().cya(current + cya).build(), this.request.policy()));
	}

	/**
	 * Counts worth trying beside none, smallest first; none where no tablets may go in or today's chlorine holds already. Between too few
	 * to hold chlorine with today's dose and enough to hold it without one, cost changes nearly evenly, so a few counts stand for all.
	 *
	 * @param cya ppm
	  */
	List<Integer> candidateCounts(double cya) {
		ResidualTarget without = with(0).residualTarget;
		Product product = this.tablets;
		if (product == null || without == null || without.isMet()) {
			return List.of();
		}
		IntFunction<ResidualTarget> target = count -> Objects.requireNonNull(with(count).residualTarget());
		int maximum = maximumCount(product, cya, target);
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

	private int maximumCount(Product product, double cya, IntFunction<ResidualTarget> target) {
		DissolvingTablets dissolving = this.request.forecast().tablets();
		double perTablet = fc(product, 1, this.litres);
		if (dissolving == null || !(perTablet > 0)) {
			return 0;
		}
		double limit = DissolvingTablets.cyaLimit(this.request.pool());
		// A CYA carried from an earlier test has what was put in since counted in, dissolved or not; one of today has not.
		double dissolvingFc = (this.request.readings().cya() != null) ? dissolving.undissolved() : 0;
		double room = (limit - cya) / Stoichiometry.CYA_PER_TRICHLOR_CHLORINE - dissolvingFc;
		double capacity = perTablet * ((this.request.pool().sanitizer() == Sanitizer.FLOATER) ? MAX_IN_FLOATER : MAX_IN_FEEDER)
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
