package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;

/**
 * What is not to be done here and why: columns {@code do_not_use} and {@code why_not} of the trade table {@code situations.csv}. Some
 * of it keeps products out of the plan; all of it is shown. What belongs to a situation stands in {@link SituationProcedures}.
 */
final class Contraindications {

	/** Pool-size doses, tablets and quat have no place in a spa. */
	private static final Set<ActiveIngredient> NOT_IN_A_SPA = Set.of(ActiveIngredient.TRICHLOR, ActiveIngredient.QUAT_ALGAECIDE);

	/** @param ingredients kept out of the plan; none where it is a way of working that is warned of */
	private record Contraindication(Reason reason, Set<ActiveIngredient> ingredients) {
	}

	private final PlanRequest request;

	private final Assessment assessment;

	private final List<Contraindication> contraindications = new ArrayList<>();

	private Contraindications(PlanRequest request, Assessment assessment) {
		this.request = request;
		this.assessment = assessment;
	}

	static Contraindications of(PlanRequest request, Assessment assessment) {
		Contraindications all = new Contraindications(request, assessment);
		for (SituationProcedure.ConditionalContraindication ofSituation : SituationProcedures.of(request.situation()).contraindications()) {
			if (ofSituation.condition().holds(request, assessment)) {
				all.contraindications.add(new Contraindication(ofSituation.reason(), ofSituation.ingredients()));
			}
		}
		all.addStabilizer();
		all.addHardnessAndAlkalinity();
		all.addSaltCell();
		Double fc = request.readings().fc();
		if (fc != null && fc > request.policy().swimCeiling() + 1e-9) {
			all.ban("reducer-by-guess", Set.of(ActiveIngredient.ASCORBIC_ACID));
		}
		if (request.pool().body() == BodyOfWater.SPA) {
			all.ban("spa", NOT_IN_A_SPA);
		}
		return all;
	}

	/** Why products of an ingredient stay out of this plan; null when they need not. */
	@Nullable
	Reason reasonAgainst(ActiveIngredient ingredient) {
		for (Contraindication contraindication : this.contraindications) {
			if (contraindication.ingredients().contains(ingredient)) {
				return contraindication.reason();
			}
		}
		return null;
	}

	/** Everything to be shown with a plan of these additions. */
	List<Reason> warnings(List<DosingSequence.Addition> additions, boolean replacing) {
		List<Reason> warnings = new ArrayList<>();
		this.contraindications.forEach(contraindication -> warnings.add(contraindication.reason()));
		addForAdditions(additions, warnings);
		boolean anything = !additions.isEmpty() || replacing;
		if (anything) {
			addForSurface(warnings);
		}
		else if (this.request.situation() == Situation.ROUTINE && this.assessment.reasons().isEmpty()) {
			warnings.add(Reason.of("not.just-in-case"));
		}
		return warnings;
	}

	/** Levels that are not to be fed further; {@link ProductSelector} keeps out what feeds them by its own limits. */
	private void addStabilizer() {
		PoolFacts pool = this.request.pool();
		Double cya = this.request.effectiveReadings().cya();
		double limit = (pool.body() == BodyOfWater.SPA) ? ProductSelector.CYA_LIMIT_SPA : ProductSelector.CYA_LIMIT;
		boolean chlorineLow = holds(PoolCondition.FC_LOW);
		if (pool.indoor()) {
			if (chlorineLow || this.request.situation() == Situation.HIGH_COMBINED_CHLORINE) {
				ban("stabilizer-indoor", Set.of(ActiveIngredient.CYANURIC_ACID));
			}
		}
		else if (cya != null && cya >= limit && pool.sanitizer().usesChlorine()) {
			warn(Reason.of("not.stabilized", Term.of(Level.CYA, cya)));
		}
		else if (cya == null && chlorineLow) {
			warn("stabilizer-unread");
		}
	}

	private void addHardnessAndAlkalinity() {
		Readings readings = this.request.effectiveReadings();
		Double ch = readings.ch();
		if (ch != null && ch >= ProductSelector.CH_LIMIT) {
			warn(Reason.of("not.calcium", Term.of(Level.CH, ch)));
		}
		if (holds(PoolCondition.PH_LOW) && readings.ta() != null) {
			warn(holds(PoolCondition.TA_LOW) ? "more-tablets" : "bicarbonate-for-ph");
		}
	}

	private void addSaltCell() {
		if (this.request.pool().sanitizer() != Sanitizer.SALT_CELL) {
			return;
		}
		if (holds(PoolCondition.FC_LOW)) {
			warn("cell-habits");
		}
		if (holds(PoolCondition.PH_HIGH)) {
			warn("alkali-in-salt-pool");
		}
	}

	private static void addForAdditions(List<DosingSequence.Addition> additions, List<Reason> warnings) {
		boolean acid = false;
		boolean chlorine = false;
		for (DosingSequence.Addition addition : additions) {
			switch (addition.purpose()) {
				case LOWER_PH -> {
					acid = true;
					if (addition.goal().cause() == Level.TA) {
						warnings.add(Reason.of("not.acid-in-one-spot"));
					}
				}
				case RAISE_FC -> chlorine = true;
				case RAISE_CH -> warnings.add(Reason.of("not.alkali-same-day"));
				case RAISE_TA -> warnings.add(Reason.of("not.soda-ash-for-alkalinity"));
				case RAISE_SALT -> warnings.add(Reason.of("not.rock-salt"));
				default -> {
				}
			}
		}
		if (acid && chlorine) {
			warnings.add(Reason.of("not.acid-with-chlorine"));
		}
	}

	private void addForSurface(List<Reason> warnings) {
		switch (this.request.pool().surface()) {
			case VINYL -> warnings.add(Reason.of("not.vinyl"));
			case FIBREGLASS -> warnings.add(Reason.of("not.fibreglass"));
			case PAINTED -> warnings.add(Reason.of("not.painted"));
			case SOFT_SIDED -> warnings.add(Reason.of("not.soft-sided"));
			default -> {
			}
		}
	}

	private boolean holds(PoolCondition condition) {
		return condition.holds(this.request, this.assessment);
	}

	private void ban(String code, Set<ActiveIngredient> ingredients) {
		this.contraindications.add(new Contraindication(Reason.of("not." + code), ingredients));
	}

	private void warn(String code) {
		ban(code, Set.of());
	}

	private void warn(Reason reason) {
		this.contraindications.add(new Contraindication(reason, Set.of()));
	}

}
