package org.meniscus.water.treatment;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;

/**
 * What is not to be done here and why: columns {@code do_not_use} and {@code why_not} of the trade table {@code situations.csv}. Some
 * of it keeps products out of the plan; all of it is told.
 */
final class Bans {

	/** Pool-size doses, tablets and quat have no place in a spa. */
	private static final Set<Family> NOT_IN_A_SPA = Set.of(Family.TRICHLOR, Family.QUAT_ALGAECIDE);

	private static final Set<Family> ALL_CHLORINE = Set.of(Family.CALCIUM_HYPOCHLORITE, Family.SODIUM_HYPOCHLORITE, Family.DICHLOR,
			Family.TRICHLOR);

	/** A cell stays off below 60 °F; common practice, no source. */
	private static final Reason CELL_COLD = Reason.of("not.cell-cold", Term.of(Level.TEMPERATURE, (60 - 32) / 1.8));

	/** @param families kept out of the plan; none where it is a way of working that is warned of */
	private record Ban(Reason reason, Set<Family> families) {
	}

	private final PlanRequest request;

	private final Assessment assessment;

	private final List<Ban> bans = new ArrayList<>();

	private Bans(PlanRequest request, Assessment assessment) {
		this.request = request;
		this.assessment = assessment;
	}

	static Bans of(PlanRequest request, Assessment assessment) {
		Bans bans = new Bans(request, assessment);
		bans.ofSituation();
		bans.ofReadings();
		if (request.pool().body() == Body.SPA) {
			bans.ban("spa", NOT_IN_A_SPA);
		}
		return bans;
	}

	/** Why products of a family stay out of this plan; null when they need not. */
	@Nullable Reason on(Family family) {
		for (Ban ban : this.bans) {
			if (ban.families().contains(family)) {
				return ban.reason();
			}
		}
		return null;
	}

	/** Everything to be told with a plan of these steps. */
	List<Reason> told(List<Step> steps, boolean replacing) {
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
				ban("clarifier-first", Set.of(Family.CLARIFIER, Family.FLOCCULANT));
				ban("copper-first", Set.of(Family.COPPER_ALGAECIDE));
			}
			case GREEN_ALGAE_HEAVY -> warn("vacuum-blind", "acid-wash", "floc-cartridge");
			case MUSTARD_ALGAE -> {
				if (!pool.indoor()) {
					ban("bromide-outdoors", Set.of(Family.SODIUM_BROMIDE));
				}
			}
			case BLACK_ALGAE -> {
				if (!SituationWork.bareCement(pool.surface())) {
					ban("steel-or-tablet", Set.of(Family.TRICHLOR));
				}
			}
			case PINK_SLIME -> ban("weekly-clarifier", Set.of(Family.CLARIFIER));
			case CLOUDY -> ofClouds();
			case HIGH_COMBINED_CHLORINE -> {
				warn("oxidizer-trust");
				if (pool.indoor()) {
					warn("shock-with-people");
				}
				else {
					ban("trichlor-combined", Set.of(Family.TRICHLOR));
				}
			}
			case AFTER_STORM -> warn("old-readings");
			case AFTER_ASH -> warn("leaf-blower");
			case AFTER_HEAVY_USE -> {
				if (pool.body() == Body.POOL) {
					ban("dichlor-habit", Set.of(Family.DICHLOR));
				}
			}
			case STAINS_IRON -> {
				ban("shock-metal", ALL_CHLORINE);
				ban("copper-metal", Set.of(Family.COPPER_ALGAECIDE));
			}
			case STAINS_COPPER -> ban("copper-metal", Set.of(Family.COPPER_ALGAECIDE));
			case STAINS_MANGANESE -> {
				ban("oxidizer-manganese", Set.of(Family.MONOPERSULFATE));
				ban("shock-metal", ALL_CHLORINE);
			}
			case HIGH_PHOSPHATE -> warn("lanthanum-green");
			case FOAM -> ban("more-quat", Set.of(Family.QUAT_ALGAECIDE));
			case STABILIZER_GONE -> ban("stabilizer-first", Set.of(Family.CYANURIC_ACID, Family.DICHLOR, Family.TRICHLOR));
			case LEAK_SUSPECTED -> warn("dose-blind");
			case NEW_PLASTER -> ban("new-plaster", Set.of(Family.CALCIUM_HYPOCHLORITE, Family.CALCIUM_CHLORIDE, Family.SALT));
			case CELL_START -> {
				ban("cell-start", Set.of(Family.CALCIUM_HYPOCHLORITE, Family.DRY_ACID));
				warn(CELL_COLD);
			}
			case OPENING -> {
				ban("trichlor-first", Set.of(Family.TRICHLOR));
				if (pool.sanitizer() == Sanitizer.SALT_CELL) {
					warn(CELL_COLD);
				}
			}
			case CLOSING -> {
				ban("tablets-on-cover", Set.of(Family.TRICHLOR));
				ban("copper-low-ph", Set.of(Family.COPPER_ALGAECIDE));
				ban("acid-closing", Set.of(Family.MURIATIC_ACID, Family.DRY_ACID));
				warn("drain-fully");
			}
			default -> {
			}
		}
	}

	private void ofClouds() {
		Double combined = this.request.readings().combined();
		if (SituationWork.scaling(this.assessment)) {
			ban("adds-to-haze", Set.of(Family.SODA_ASH, Family.BICARBONATE, Family.CALCIUM_HYPOCHLORITE, Family.CALCIUM_CHLORIDE));
		}
		else if (is(Level.FC, LevelState.Direction.LOW) || (combined != null && combined > Planner.CC_LIMIT - 0.1)) {
			ban("clarifier-first", Set.of(Family.CLARIFIER, Family.FLOCCULANT));
		}
		else {
			warn("more-chemicals");
		}
	}

	/** Levels that are not to be fed further; {@link Choice} keeps out what feeds them by its own limits. */
	private void ofReadings() {
		PoolFacts pool = this.request.pool();
		Readings readings = this.request.working();
		Double cya = readings.cya();
		double most = (pool.body() == Body.SPA) ? Choice.CYA_NO_MORE_SPA : Choice.CYA_NO_MORE;
		boolean lowChlorine = is(Level.FC, LevelState.Direction.LOW);
		if (pool.indoor()) {
			if (lowChlorine || this.request.situation() == Situation.HIGH_COMBINED_CHLORINE) {
				ban("stabilizer-indoor", Set.of(Family.CYANURIC_ACID));
			}
		}
		else if (cya != null && cya >= most && pool.sanitizer().usesChlorine()) {
			warn(Reason.of("not.stabilized", Term.of(Level.CYA, cya)));
		}
		else if (cya == null && lowChlorine) {
			warn("stabilizer-unread");
		}
		Double ch = readings.ch();
		if (ch != null && ch >= Choice.CH_NO_MORE) {
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
			ban("reducer-by-guess", Set.of(Family.ASCORBIC_ACID));
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

	private void ban(String code, Set<Family> families) {
		this.bans.add(new Ban(Reason.of("not." + code), families));
	}

	private void warn(String... codes) {
		for (String code : codes) {
			ban(code, Set.of());
		}
	}

	private void warn(Reason reason) {
		this.bans.add(new Ban(reason, Set.of()));
	}

}
