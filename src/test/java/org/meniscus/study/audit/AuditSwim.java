package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;

/** Closed means closed: whether a plan or a refusal says so, first, and without a time by the clock. */
final class AuditSwim {

	/** Combined chlorine above which nobody swims, ppm: MAHC 5.7.3 in ranges.csv, from memory. */
	private static final double COMBINED_MOST = 0.4;

	private AuditSwim() {
	}

	static List<AuditCheck.Finding> check(AuditCase at) {
		List<String> closing = closing(at.request(), at.readings());
		if (at.request().pool().sanitizer().usesChlorine()) {
			double fc = at.after().fc();
			double most = at.request().policy().swimCeiling();
			if (fc < at.swimFc() - 0.1) {
				closing.add(String.format(Locale.ROOT, "FC %.1f below %.1f", fc, at.swimFc()));
			}
			if (fc > Math.max(most, at.swimFc()) + 0.1) {
				closing.add(String.format(Locale.ROOT, "FC %.1f above %.1f", fc, most));
			}
		}
		return check(at.plan().swim(), closing);
	}

	static List<AuditCheck.Finding> check(PlanRequest request, PlanRefusal refused) {
		return check(refused.swim(), closing(request, request.lastKnown().fillIn(request.readings())));
	}

	private static List<AuditCheck.Finding> check(SwimReadiness swim, List<String> closing) {
		List<AuditCheck.Finding> findings = new ArrayList<>();
		if (swim.state() != SwimReadiness.State.CLOSED) {
			if (!closing.isEmpty()) {
				findings.add(new AuditCheck.Finding(AuditCheck.OPEN_THOUGH_CLOSED, String.join(", ", closing)));
			}
			return findings;
		}
		if (swim.conditions().stream().anyMatch(condition -> condition.evidence() == SwimReadiness.Evidence.TIME)) {
			findings.add(new AuditCheck.Finding(AuditCheck.CLOCK_WHEN_CLOSED, String.format(Locale.ROOT, "wait %.1f h", swim.waitHours())));
		}
		SwimReadiness.Condition first = swim.conditions().get(0);
		if (first.evidence() != SwimReadiness.Evidence.TEST && first.evidence() != SwimReadiness.Evidence.TREATMENT) {
			findings.add(new AuditCheck.Finding(AuditCheck.CLOSED_NOT_FIRST, "first is " + first.reason().code()));
		}
		return findings;
	}

	/**
	 * Bromine below which nobody swims until a test shows more, ppm: 3, in a hot tub 4 (CDC, from memory). What makes it of bromide is not
	 * counted on: no test shows bromide.
	 */
	static double bromineLeast(PlanRequest request) {
		return (request.pool().body() == BodyOfWater.SPA) ? 4 : 3;
	}

	/** Why nobody may swim now, whatever the clock says and whatever goes in. */
	private static List<String> closing(PlanRequest request, Readings readings) {
		List<String> closing = new ArrayList<>();
		if (Boolean.FALSE.equals(readings.drainVisible())) {
			closing.add("drain not visible");
		}
		Double combined = readings.combined();
		if (request.pool().sanitizer().usesChlorine() && combined != null && combined > COMBINED_MOST + 1e-9) {
			closing.add(String.format(Locale.ROOT, "CC %.1f", combined));
		}
		Double bromine = readings.bromine();
		if (request.pool().sanitizer() == Sanitizer.BROMINE && bromine != null && bromine < bromineLeast(request) - 1e-9) {
			closing.add(String.format(Locale.ROOT, "bromine %.1f", bromine));
		}
		Situation situation = request.situation();
		if (situation.growth() || situation.incident() || situation == Situation.FLOOD || situation == Situation.PUMP_OFF) {
			closing.add(situation.name());
		}
		return closing;
	}

}
