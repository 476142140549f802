package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

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
import org.meniscus.water.season.SeasonValue;

/** Chlorine from today to the next visit with so many tablets put into floater or feeder today; worked out once for each count. */
final class TabletSupply {

	/** What a floater takes; common practice, no source. */
	private static final int MAX_IN_FLOATER = 5;

	/** What a feeder takes; common practice, no source. */
	private static final int MAX_IN_FEEDER = 12;

	/** More counts cost time and change little. */
	private static final int MAX_TRIED = 6;

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
		this.residualTarget = computeResidualTarget(0);
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

	/** Where stabilizer goes in as well, by what it asks for once it has dissolved; null in a pool whose chlorine has no range. */
	@Nullable
	ResidualTarget residualTarget(List<DosingSequence.Addition> additions) {
		double stabilizer = additions.stream()
			.filter(addition -> addition.purpose() == Step.Purpose.RAISE_CYA)
			.mapToDouble(addition -> addition.after().water().cyanuricAcid() - addition.before().water().cyanuricAcid())
			.sum();
		return (stabilizer > 0) ? computeResidualTarget(stabilizer) : this.residualTarget;
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

	/** Expected days until the next visit on which FC is below its minimum, from this FC, ppm. */
	double expectedDaysBelow(double fc) {
		return (this.residualTarget == null) ? 0 : this.residualTarget.expectedDaysBelow(fc);
	}

	/** @param stabilizer that goes in beside tablets, ppm CYA */
	private @Nullable ResidualTarget computeResidualTarget(double stabilizer) {
		Double minimum = this.assessment.fcToHold();
		LevelState state = this.assessment.state(Level.FC);
		Double fc = this.request.readings().fc();
		if (minimum == null || state == null || fc == null) {
			return null;
		}
		DissolvingTablets dissolving = this.forecast.tablets();
		double cya = stabilizer + ((dissolving == null) ? 0
				: dissolving.dissolvedWithin(this.request.daysToNextVisit()) * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE);
		return new ResidualTarget(this.request, this.forecast, minimumWithCya(minimum, cya), fc, state.range().idealLow());
	}

	/** Lowest FC once so much stabilizer has come with chlorine. @param cya ppm */
	double minimumWithCya(double minimum, double cya) {
		Readings working = this.request.effectiveReadings();
		Double current = working.cya();
		return (current == null || !(cya > 0)) ? minimum
				: Math.max(minimum,
						Assessor.fcToHold(this.request.pool(), working.toBuilder().cya(current + cya).build(), this.request.policy()));
	}

	/**
	 * Counts worth trying beside none, smallest first; none where no tablets may go in or today's chlorine holds already. A floater's are tried
	 * one by one, a feeder's in even steps.
	 *
	 * @param cya ppm
	  */
	List<Integer> candidateCounts(double cya) {
		ResidualTarget without = with(0).residualTarget;
		DissolvingTablets dissolving = this.request.forecast().tablets();
		if (this.tablets == null || dissolving == null || without == null || without.isMet()) {
			return List.of();
		}
		double perTablet = fc(this.tablets, 1, this.litres);
		double capacity = perTablet * ((this.request.pool().sanitizer() == Sanitizer.FLOATER) ? MAX_IN_FLOATER : MAX_IN_FEEDER)
				- dissolving.undissolved();
		int most = (perTablet > 0) ? (int) Math.max(0, Math.floor(capacity / perTablet + 1e-9)) : 0;
		List<Integer> counts = new ArrayList<>();
		for (int count = 1; count <= most; count++) {
			if (isAllowed(count, cya + with(count).cyaToCome())) {
				counts.add(count);
			}
		}
		return counts.size() <= MAX_TRIED ? counts
				: IntStream.rangeClosed(1, MAX_TRIED).mapToObj(n -> counts.get(n * counts.size() / MAX_TRIED - 1)).toList();
	}

	/** CYA that tablets have still to leave once all have dissolved, ppm. */
	double cyaToCome() {
		DissolvingTablets dissolving = this.request.forecast().tablets();
		// A CYA carried from an earlier test has what was put in since counted in, dissolved or not; one of today has not.
		double earlier = (dissolving != null && this.request.readings().cya() != null) ? dissolving.undissolved() : 0;
		return (fc() + earlier) * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
	}

	/** Whether so many neither overfeed nor leave more CYA than the ceiling has room for. @param endCya once all have dissolved, ppm */
	private boolean isAllowed(int count, double endCya) {
		ResidualTarget target = with(count).residualTarget;
		return target != null && !target.isOverfed() && endCya <= SeasonValue.tabletCyaCap(this.request.pool(), this.request.policy(),
				target.expectedFromCeiling()) + 1e-9;
	}

}
