package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
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
 * of it keeps products out of the plan; all of it is told.
 */
final class Contraindications {

	/** Pool-size doses, tablets and quat have no place in a spa. */
	private static final Set<ActiveIngredient> NOT_IN_A_SPA = Set.of(ActiveIngredient.TRICHLOR, ActiveIngredient.QUAT_ALGAECIDE);

	private static final Set<ActiveIngredient> ALL_CHLORINE = Set.of(ActiveIngredient.CALCIUM_HYPOCHLORITE,
			ActiveIngredient.SODIUM_HYPOCHLORITE, ActiveIngredient.DICHLOR,
			ActiveIngredient.TRICHLOR);

	/** A cell stays off below 60 °F; common practice, no source. */
	private static final Reason CELL_COLD = Reason.of("not.cell-cold", Term.of(Level.TEMPERATURE, (60 - 32) / 1.8));

	/** @param families kept out of the plan; none where it is a way of working that is warned of */
	private record Contraindication(Reason reason, Set<ActiveIngredient> families) {
	}

	private final PlanRequest request;

	private final Assessment assessment;

	private final List<Contraindication> bans = new ArrayList<>();

	private Contraindications(PlanRequest request, Assessment assessment) {
		this.request = request;
		this.assessment = assessment;
	}

	static Contraindications of(PlanRequest request, Assessment assessment) {
		Contraindications bans = new Contraindications(request, assessment);
		bans.ofSituation();
		bans.ofReadings();
		if (request.pool().body() == BodyOfWater.SPA) {
			bans.ban("spa", NOT_IN_A_SPA);
		}
		return bans;
	}

	/** Why products of a family stay out of this plan; null when they need not. */
	@Nullable
	Reason reasonAgainst(ActiveIngredient family) {
		for (Contraindication ban : this.bans) {
			if (ban.families().contains(family)) {
				return ban.reason();
			}
		}
		return null;
	}

	/** Everything to be told with a plan of these steps. */
	List<Reason> warnings(List<Step> steps, boolean replacing) {
		List<Reason> told = new ArrayList<>();
		this.bans.forEach(ban -> told.add(ban.reason()));
		ofSteps(steps, told);
		if (!steps.isEmpty() || replacing) {
			ofSurface(told);
		}
		if (steps.isEmpty() && !replacing && this.request.situation() == Situation.ROUTINE && this.assessment.reasons().isEmpty()) {
			told.add(Reason.of("not.just-in-case"));
		}
		return told;
	}

	private void ofSituation() {
		PoolFacts pool = this.request.pool();
		switch (this.request.situation()) {
			case GREEN_ALGAE_LIGHT -> {
				ban("clarifier-first", Set.of(ActiveIngredient.CLARIFIER, ActiveIngredient.FLOCCULANT));
				ban("copper-first", Set.of(ActiveIngredient.COPPER_ALGAECIDE));
			}
			case GREEN_ALGAE_HEAVY -> warn("vacuum-blind", "acid-wash", "floc-cartridge");
			case MUSTARD_ALGAE -> {
				if (!pool.indoor()) {
					ban("bromide-outdoors", Set.of(ActiveIngredient.SODIUM_BROMIDE));
				}
			}
			case BLACK_ALGAE -> {
				if (!SituationProcedure.bareCement(pool.surface())) {
					ban("steel-or-tablet", Set.of(ActiveIngredient.TRICHLOR));
				}
			}
			case PINK_SLIME -> ban("weekly-clarifier", Set.of(ActiveIngredient.CLARIFIER));
			case CLOUDY -> ofClouds();
			case HIGH_COMBINED_CHLORINE -> {
				warn("oxidizer-trust");
				if (pool.indoor()) {
					warn("shock-with-people");
				}
				else {
					ban("trichlor-combined", Set.of(ActiveIngredient.TRICHLOR));
				}
			}
			case AFTER_STORM -> warn("old-readings");
			case AFTER_ASH -> warn("leaf-blower");
			case AFTER_HEAVY_USE -> {
				if (pool.body() == BodyOfWater.POOL) {
					ban("dichlor-habit", Set.of(ActiveIngredient.DICHLOR));
				}
			}
			case STAINS_IRON -> {
				ban("shock-metal", ALL_CHLORINE);
				ban("copper-metal", Set.of(ActiveIngredient.COPPER_ALGAECIDE));
			}
			case STAINS_COPPER -> ban("copper-metal", Set.of(ActiveIngredient.COPPER_ALGAECIDE));
			case STAINS_MANGANESE -> {
				ban("oxidizer-manganese", Set.of(ActiveIngredient.MONOPERSULFATE));
				ban("shock-metal", ALL_CHLORINE);
			}
			case HIGH_PHOSPHATE -> warn("lanthanum-green");
			case FOAM -> ban("more-quat", Set.of(ActiveIngredient.QUAT_ALGAECIDE));
			case STABILIZER_GONE ->
				ban("stabilizer-first", Set.of(ActiveIngredient.CYANURIC_ACID, ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR));
			case LEAK_SUSPECTED -> warn("dose-blind");
			case NEW_PLASTER ->
				ban("new-plaster", Set.of(ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.CALCIUM_CHLORIDE, ActiveIngredient.SALT));
			case CELL_START -> {
				ban("cell-start", Set.of(ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DRY_ACID));
				warn(CELL_COLD);
			}
			case OPENING -> {
				ban("trichlor-first", Set.of(ActiveIngredient.TRICHLOR));
				if (pool.sanitizer() == Sanitizer.SALT_CELL) {
					warn(CELL_COLD);
				}
			}
			case CLOSING -> {
				ban("tablets-on-cover", Set.of(ActiveIngredient.TRICHLOR));
				ban("copper-low-ph", Set.of(ActiveIngredient.COPPER_ALGAECIDE));
				ban("acid-closing", Set.of(ActiveIngredient.MURIATIC_ACID, ActiveIngredient.DRY_ACID));
				warn("drain-fully");
			}
			default -> {
			}
		}
	}

	private void ofClouds() {
		Double combined = this.request.readings().combined();
		if (SituationProcedure.scaling(this.assessment)) {
			ban("adds-to-haze", Set.of(ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE, ActiveIngredient.CALCIUM_HYPOCHLORITE,
					ActiveIngredient.CALCIUM_CHLORIDE));
		}
		else if (is(Level.FC, LevelState.Direction.LOW) || (combined != null && combined > Planner.CC_LIMIT - 0.1)) {
			ban("clarifier-first", Set.of(ActiveIngredient.CLARIFIER, ActiveIngredient.FLOCCULANT));
		}
		else {
			warn("more-chemicals");
		}
	}

	/** Levels that are not to be fed further; {@link ProductSelector} keeps out what feeds them by its own limits. */
	private void ofReadings() {
		PoolFacts pool = this.request.pool();
		Readings readings = this.request.effectiveReadings();
		Double cya = readings.cya();
		double most = (pool.body() == BodyOfWater.SPA) ? ProductSelector.CYA_LIMIT_SPA : ProductSelector.CYA_LIMIT;
		boolean lowChlorine = is(Level.FC, LevelState.Direction.LOW);
		if (pool.indoor()) {
			if (lowChlorine || this.request.situation() == Situation.HIGH_COMBINED_CHLORINE) {
				ban("stabilizer-indoor", Set.of(ActiveIngredient.CYANURIC_ACID));
			}
		}
		else if (cya != null && cya >= most && pool.sanitizer().usesChlorine()) {
			warn(Reason.of("not.stabilized", Term.of(Level.CYA, cya)));
		}
		else if (cya == null && lowChlorine) {
			warn("stabilizer-unread");
		}
		Double ch = readings.ch();
		if (ch != null && ch >= ProductSelector.CH_LIMIT) {
			warn(Reason.of("not.calcium", Term.of(Level.CH, ch)));
		}
		Double ta = readings.ta();
		if (is(Level.PH, LevelState.Direction.LOW) && ta != null) {
			warn(is(Level.TA, LevelState.Direction.LOW) ? "more-tablets" : "bicarbonate-for-ph");
		}
		if (pool.sanitizer() == Sanitizer.SALT_CELL && lowChlorine) {
			warn("cell-habits");
		}
		if (pool.sanitizer() == Sanitizer.SALT_CELL && is(Level.PH, LevelState.Direction.HIGH)) {
			warn("alkali-in-salt-pool");
		}
		Double fc = readings.fc();
		if (fc != null && fc > this.request.policy().swimCeiling() + 1e-9) {
			ban("reducer-by-guess", Set.of(ActiveIngredient.ASCORBIC_ACID));
		}
	}

	private static void ofSteps(List<Step> steps, List<Reason> told) {
		boolean acid = false;
		boolean chlorine = false;
		for (Step step : steps) {
			acid |= step.purpose() == Step.Purpose.LOWER_PH;
			chlorine |= step.purpose() == Step.Purpose.RAISE_FC;
			switch (step.purpose()) {
				case RAISE_CH -> told.add(Reason.of("not.alkali-same-day"));
				case RAISE_TA -> told.add(Reason.of("not.soda-ash-for-alkalinity"));
				case RAISE_SALT -> told.add(Reason.of("not.rock-salt"));
				default -> {
				}
			}
			if (step.reason().code().equals("why.ta-high")) {
				told.add(Reason.of("not.acid-in-one-spot"));
			}
		}
		if (acid && chlorine) {
			told.add(Reason.of("not.acid-with-chlorine"));
		}
	}

	private void ofSurface(List<Reason> told) {
		switch (this.request.pool().surface()) {
			case VINYL -> told.add(Reason.of("not.vinyl"));
			case FIBREGLASS -> told.add(Reason.of("not.fibreglass"));
			case PAINTED -> told.add(Reason.of("not.painted"));
			case SOFT_SIDED -> told.add(Reason.of("not.soft-sided"));
			default -> {
			}
		}
	}

	private boolean is(Level level, LevelState.Direction direction) {
		return this.assessment.is(level, LevelState.State.OUT_OF_RANGE, direction);
	}

	private void ban(String code, Set<ActiveIngredient> families) {
		this.bans.add(new Contraindication(Reason.of("not." + code), families));
	}

	private void warn(String... codes) {
		for (String code : codes) {
			ban(code, Set.of());
		}
	}

	private void warn(Reason reason) {
		this.bans.add(new Contraindication(reason, Set.of()));
	}

}
