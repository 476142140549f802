package org.meniscus.report;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.LevelState.Direction;
import org.meniscus.water.assess.LevelState.State;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.units.Volume;

/**
 * When one may swim again: a time by the waits of what was added, and what must hold besides. The time alone is never enough when
 * there is a condition.
 *
 * @param earliest null when nothing was added that asks for waiting
 * @param conditions in the order they matter
 */
public record SwimAdvice(@Nullable Instant earliest, List<Condition> conditions) {

	/** Something that must hold, whatever the clock says. */
	public enum Kind {

		/** Nobody knows before somebody of the company has looked again. */
		TOLD_BY_US,
		/** FC is or may be above the company's ceiling for swimming; figure: the ceiling, ppm. */
		FC_DOWN,
		/** FC was under its minimum and nothing was added that raises it; figure: the minimum, ppm. */
		FC_UP,
		/** pH was outside its acceptable range; figures: its two ends. */
		PH_INSIDE,
		/** Tablets may float in the pool: taken out before swimming, products.csv of the trade tables. */
		FLOATER_OUT,
		/** The main drain could not be seen. */
		FLOOR_SEEN

	}

	public record Condition(Kind kind, List<Double> figures) {

		static Condition of(Kind kind, Double... figures) {
			return new Condition(kind, List.of(figures));
		}

	}

	public SwimAdvice {
		conditions = List.copyOf(conditions);
	}

	/** Whether it is for the company to say, and no test of the homeowner's own is enough. */
	public boolean toldByUs() {
		return conditions.stream().anyMatch(condition -> condition.kind() == Kind.TOLD_BY_US);
	}

	static SwimAdvice of(VisitRecord visit, PoolFacts pool, Assessment assessment, double ceiling) {
		List<Condition> conditions = new ArrayList<>();
		if (unsettled(visit.situation())) {
			conditions.add(Condition.of(Kind.TOLD_BY_US));
		}
		boolean chlorinated = visit.doses().stream().anyMatch(SwimAdvice::raisesAtOnce);
		if (pool.sanitizer().usesChlorine()) {
			Double fc = visit.readings().fc();
			Double minimum = assessment.fcMinimum();
			if (mayExceed(visit, pool, ceiling)) {
				conditions.add(Condition.of(Kind.FC_DOWN, ceiling));
			}
			else if (fc != null && minimum != null && fc < minimum && !chlorinated) {
				conditions.add(Condition.of(Kind.FC_UP, minimum));
			}
		}
		LevelState ph = assessment.state(Level.PH);
		if (ph != null && ph.state() == State.OUT_OF_RANGE && ph.direction() != Direction.INSIDE) {
			conditions.add(Condition.of(Kind.PH_INSIDE, ph.range().acceptableLow(), ph.range().acceptableHigh()));
		}
		if (pool.sanitizer() == Sanitizer.FLOATER) {
			conditions.add(Condition.of(Kind.FLOATER_OUT));
		}
		if (Boolean.FALSE.equals(visit.readings().drainVisible()) || visit.situation() == Situation.CLOUDY) {
			conditions.add(Condition.of(Kind.FLOOR_SEEN));
		}
		return new SwimAdvice(visit.swimReadyAt(), conditions);
	}

	/** FC as read plus all chlorine that went in at once; when what went in cannot be told, it may. */
	private static boolean mayExceed(VisitRecord visit, PoolFacts pool, double ceiling) {
		Double read = visit.readings().fc();
		double fc = (read != null) ? read : 0;
		Volume volume = pool.volume();
		for (DoseRecord dose : visit.doses()) {
			if (raisesAtOnce(dose)) {
				Double brought = (volume == null) ? null : dose.recorded()
					.chlorine(volume.litres())
					.orElse(null);
				if (brought == null) {
					return true;
				}
				fc += brought;
			}
		}
		return fc > ceiling + 0.05;
	}

	/** Tablets give their chlorine over days. */
	private static boolean raisesAtOnce(DoseRecord dose) {
		return dose.kind().family().chlorine() && dose.kind().form() != PhysicalForm.TABLET;
	}

	private static boolean unsettled(Situation situation) {
		return switch (situation) {
			case GREEN_ALGAE_HEAVY, PUMP_OFF, CONTAMINATION, DIARRHOEA, DEAD_ANIMAL, FLOOD, STAINS_IRON, STAINS_MANGANESE, NEW_PLASTER,
					OPENING,
					CLOSING ->
				true;
			default -> false;
		};
	}

}
