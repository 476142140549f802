package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.Volume;

/**
 * Works out what to do at one stop: same request, same plan. {@link PlanSearch} compares candidates, {@link DosingRun} works each one
 * out, {@link PlanWriter} writes the best one down. Order: acid, chlorine or oxidizer, then what lifts pH, TA, CH, CYA and salt; a
 * product whose gap is longer than a stop goes last or on another day. Every dose moves by the equilibrium, every level after it is
 * worked out from the rounded amount.
 */
public final class Planner {

	/** Days until the next visit where nobody knows: most pools are visited weekly. Common practice, no source. */
	private static final int USUAL_DAYS = 7;

	private Planner() {
	}

	/** A {@link Plan}, or {@link PlanRefusal} where no dose may be worked out; never an exception for readings a test can show. */
	public static PlanResult plan(PlanRequest request) {
		List<ReadingFinding> findings = ReadingCheck.check(request.readings(), null, request.pool(), Set.of());
		List<Reason> impossible = findings.stream()
			.filter(finding -> finding.kind() == ReadingFinding.Kind.IMPOSSIBLE
					|| (finding.kind() == ReadingFinding.Kind.CONTRADICTION && finding.level() == Level.TA))
			.map(ReadingFinding::reason)
			.toList();
		if (!impossible.isEmpty()) {
			boolean shown = findings.stream().noneMatch(finding -> finding.kind() == ReadingFinding.Kind.IMPOSSIBLE);
			return refuse(request, Readings.none(), shown ? request.effectiveReadings() : Readings.none(), impossible);
		}
		List<Reason> missing = missing(request);
		Volume volume = request.pool().volume();
		if (volume == null || !missing.isEmpty()) {
			return refuse(request, request.effectiveReadings(), request.effectiveReadings(), missing);
		}
		PoolWater water = PoolWater.of(request.pool(), request.effectiveReadings());
		Speciation speciation = Speciation.of(water.water());
		if (speciation.contradictory()) {
			return refuse(request, Readings.none(), request.effectiveReadings(),
					List.of(Reason.of("refused.contradictory", Term.of(Level.TA, water.water().totalAlkalinity()),
							Term.of(Level.TA, speciation.alkalinityWithoutCarbonate()))));
		}
		boolean unknown = request.daysToNextVisit() == 0;
		PlanContext context = PlanContext.of(unknown ? request.withNextVisitAfter(USUAL_DAYS) : request, water, volume.litres());
		return PlanWriter.write(context, PlanSearch.of(context), findings, unknown);
	}

	/**
	 * @param assessed readings that go together
	 * @param shown readings that a test can show
	 */
	private static PlanRefusal refuse(PlanRequest request, Readings assessed, Readings shown, List<Reason> reasons) {
		List<Reason> tasks = new ArrayList<>();
		SituationProcedures.of(request.situation(), request.pool())
			.tasksWithoutDose()
			.forEach(task -> tasks.add(SituationProcedure.at(request.pool(), task)));
		tasks.addAll(IncidentResponse.of(request));
		return new PlanRefusal(Assessment.of(request.pool(), assessed, request.policy()),
				SwimReadiness.of(request.pool(), shown, request.situation(), request.policy()), reasons, tasks);
	}

	/** Why no dose may be worked out: situations in which nothing goes in, and what has to be known of the pool and its water. */
	private static List<Reason> missing(PlanRequest request) {
		List<Reason> missing = new ArrayList<>();
		Reason refusal = SituationProcedures.of(request.situation(), request.pool()).refusal();
		if (refusal != null) {
			missing.add(refusal);
		}
		PoolFacts pool = request.pool();
		if (pool.sanitizer() == Sanitizer.BIGUANIDE && request.situation() != Situation.ROUTINE && refusal == null) {
			missing.add(Reason.of("refused.biguanide"));
		}
		if (pool.volume() == null || pool.volume().litres() <= 0) {
			missing.add(Reason.of("refused.volume-missing"));
		}
		else if (pool.certainty() == VolumeCertainty.UNVERIFIED) {
			missing.add(Reason.of("refused.volume-unverified"));
		}
		if (request.readings().ph() == null) {
			missing.add(Reason.of("refused.missing", Term.of(Level.PH)));
		}
		if (pool.sanitizer().usesChlorine() && request.readings().fc() == null) {
			missing.add(Reason.of("refused.missing", Term.of(Level.FC)));
		}
		if (pool.sanitizer() == Sanitizer.BROMINE && request.readings().bromine() == null) {
			missing.add(Reason.of("refused.missing", Term.of(Level.BROMINE)));
		}
		return missing;
	}

}
