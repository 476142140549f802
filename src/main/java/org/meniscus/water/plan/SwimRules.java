package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;

import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;

/** When people may go in again: every condition of the trade facts, section 1.7; waits are those of today's products. */
final class SwimRules {

	/** CC below which the air and the water are fit to be in, ppm; from memory. */
	private static final double COMBINED_LIMIT = 0.4;

	private SwimRules() {
	}

	/** @param closed growth or clouds are being treated: nobody in until the water is clear and holds its chlorine */
	static SwimRule of(PlanRequest request, Assessment assessment, List<Step> steps, Levels after, boolean closed) {
		PoolFacts pool = request.pool();
		TreatmentPolicy policy = request.policy();
		boolean chlorine = pool.sanitizer().usesChlorine();
		Double minimum = assessment.fcMinimum();
		double least = (chlorine && minimum != null) ? minimum : 0;
		// A spa's own code range goes up to 10 ppm, but the label in hand and the company's ceiling come first.
		double most = policy.swimCeiling();
		Range ph = pool.targets().range(Level.PH);
		double earliest = 0;
		Product slowest = null;
		for (Step step : steps) {
			double ready = step.startMinutes() / 60.0 + step.waitHours();
			if (ready > earliest) {
				earliest = ready;
				slowest = step.product();
			}
		}
		boolean test = closed;
		List<Reason> conditions = new ArrayList<>();
		if (slowest != null) {
			conditions.add(Reason.of("swim.wait", new Term.Hours(earliest), Term.of(slowest.kind())));
		}
		Boolean drain = request.readings().drainVisible();
		conditions.add(Reason.of("swim.drain"));
		test |= Boolean.FALSE.equals(drain);
		if (chlorine) {
			conditions.add(Reason.of("swim.fc", Term.of(Level.FC, least), Term.of(Level.FC, Math.max(least, most))));
			double fc = after.value(Level.FC, 0);
			test |= fc > most + 1e-9 || fc < least - 1e-9;
			if (fc > most + 1e-9) {
				conditions.add(Reason.of("swim.fc-falls", Term.of(Level.FC, fc), Term.of(Level.FC, most)));
			}
			if (Assessor.minimumReachesCeiling(least, most)) {
				conditions.add(Reason.of("swim.no-room"));
			}
		}
		if (ph != null) {
			conditions.add(Reason.of("swim.ph", Term.of(Level.PH, ph.acceptableLow()), Term.of(Level.PH, ph.acceptableHigh())));
			double value = after.value(Level.PH, 7.5);
			test |= value < ph.acceptableLow() - 0.05 || value > ph.acceptableHigh() + 0.05;
		}
		if (pool.sanitizer() == Sanitizer.FLOATER) {
			conditions.add(Reason.of("swim.floater-out"));
		}
		if (pool.body() == BodyOfWater.SPA) {
			conditions.add(Reason.of("swim.spa-heat", Term.of(Level.TEMPERATURE, 40)));
		}
		if (request.situation() == Situation.HIGH_COMBINED_CHLORINE) {
			conditions.add(Reason.of(pool.indoor() ? "swim.combined-indoor" : "swim.combined", Term.of(Level.CC, COMBINED_LIMIT)));
			test = true;
		}
		if (request.situation() == Situation.NEW_PLASTER) {
			conditions.add(Reason.of("swim.plaster-maker"));
			test = true;
		}
		if (closed) {
			conditions.add(Reason.of("swim.clear-overnight"));
		}
		conditions.add(Reason.of("swim.covers"));
		return new SwimRule(conditions, earliest, test, least, Math.max(least, most));
	}

}
