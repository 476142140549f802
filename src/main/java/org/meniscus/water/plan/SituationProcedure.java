package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Volume;

/**
 * What a situation asks for besides today's chemicals, and on later days: columns {@code check_first}, {@code steps_in_order} and
 * {@code follow_up} of the trade table {@code situations.csv}. Days of holding chlorine and of re-tests are common practice, no source.
 */
final class SituationProcedure {

	/** The next morning, whenever in working hours the plan is made. */
	private static final double NEXT_MORNING = 18;

	private static final double DAY = 24;

	/** Without stabilizer the sun takes most of the chlorine of a day; common practice, no source. */
	private static final double CYA_NO_SHIELD = 20;

	/** TA above which pH of a salt pool keeps climbing, ppm; common practice, no source. */
	private static final double TA_FEEDS_PH = 90;

	private final PlanRequest request;

	private final Assessment assessment;

	private final List<Reason> work;

	private final List<FollowUpStep> later;

	SituationProcedure(PlanRequest request, Assessment assessment, List<Reason> work, List<FollowUpStep> later) {
		this.request = request;
		this.assessment = assessment;
		this.work = work;
		this.later = later;
	}

	/** Plaster and the like without paint: takes a steel brush and a tablet. */
	static boolean bareCement(Surface surface) {
		return surface.cementBound() && surface != Surface.PAINTED;
	}

	/** Carbonate is coming out: the saturation index is above its ideal range. */
	static boolean scaling(Assessment assessment) {
		LevelState index = assessment.state(Level.SATURATION_INDEX);
		return index != null && index.state() != LevelState.State.IN_RANGE && index.direction() == LevelState.Direction.HIGH;
	}

	/** Why TA, CH, CYA and salt are not lifted yet; null where they may be. */
	static @Nullable Reason balanceWaits(Situation situation) {
		return switch (situation) {
			case GREEN_ALGAE_LIGHT, GREEN_ALGAE_HEAVY, MUSTARD_ALGAE, BLACK_ALGAE, PINK_SLIME -> Reason.of("note.balance-after-clear");
			case STAINS_IRON, STAINS_COPPER, STAINS_MANGANESE -> Reason.of("note.balance-after-metal");
			case STABILIZER_GONE -> Reason.of("note.balance-after-ammonia");
			case LEAK_SUSPECTED -> Reason.of("note.balance-after-leak");
			case NEW_PLASTER -> Reason.of("note.balance-by-maker");
			default -> null;
		};
	}

	/** What can be done where no dose is worked out, in order. */
	static List<Reason> withoutDose(Situation situation) {
		List<Reason> work = new ArrayList<>();
		switch (situation) {
			case CONTAMINATION -> codes(work, "work.contamination-close", "work.contamination-net", "not.vacuum-incident",
					"work.contamination-points", "not.stabilized-incident", "work.contamination-health-page", "work.contamination-log");
			case DIARRHOEA -> codes(work, "work.contamination-close", "work.contamination-net", "not.vacuum-incident", "work.diarrhoea-cya",
					"work.diarrhoea-department", "work.contamination-points", "not.stabilized-incident", "not.colour-test-incident",
					"work.contamination-health-page", "work.diarrhoea-backwash", "work.contamination-log");
			case DEAD_ANIMAL -> codes(work, "work.contamination-close", "work.animal-kind", "work.animal-bag", "not.bare-hands",
					"work.animal-as-stool", "work.animal-raccoon", "work.contamination-points", "work.contamination-health-page",
					"work.contamination-log");
			case FLOOD ->
				codes(work, "work.flood-power", "work.flood-no-drain", "work.flood-health", "work.flood-clean", "work.flood-photos");
			case PUMP_OFF -> codes(work, "work.pump-cause", "work.pump-restart", "work.pump-half-hour", "not.feeder-without-flow",
					"work.pump-interlock");
			default -> codes(work, "work.clean", "work.re-test");
		}
		return List.copyOf(work);
	}

	void add(@Nullable ShockLevel shock, DosingSequence additions, @Nullable WaterReplacement replacement) {
		PoolFacts pool = this.request.pool();
		switch (this.request.situation()) {
			case ROUTINE, WEEKLY_REFRESH -> routine();
			case GREEN_ALGAE_LIGHT -> {
				todo("check-flow", "brush", "filter-24h", "clean-filter", "vacuum-dead");
				hold(shock, additions, 3);
				once(ProductKind.POLYQUAT_60, 4 * DAY, "later.polyquat");
			}
			case GREEN_ALGAE_HEAVY -> {
				todo("close-pool", "debris-out", "brush", "filter-24h", "clean-filter-daily", "quote-both");
				hold(shock, additions, 5);
				later(3 * DAY, "later.weigh-draining");
			}
			case MUSTARD_ALGAE -> {
				todo("mustard-or-dust", "brush", "gear-in", "clean-fittings", "filter-24h", "clean-filter");
				hold(shock, additions, 2);
				once(ProductKind.POLYQUAT_60, 3 * DAY, "later.polyquat");
				later(7 * DAY, "later.mustard-floor");
			}
			case BLACK_ALGAE -> {
				todo("spot-or-stain", bareCement(pool.surface()) ? "brush-steel" : "brush-soft");
				if (bareCement(pool.surface())) {
					todo("spot-tablet");
				}
				todo("dead-spots", "filter-24h");
				hold(shock, additions, 3);
				once(ProductKind.POLYQUAT_60, 4 * DAY, "later.polyquat");
				for (int week = 1; week <= 3; week++) {
					later(week * 7 * DAY, "later.black-weekly");
				}
			}
			case PINK_SLIME -> {
				todo("replace-rubber", "clean-fittings", "purge-pipes", "brush", "filter-24h");
				hold(shock, additions, 2);
				once(ProductKind.POLYQUAT_60, 3 * DAY, "later.polyquat");
			}
			case CLOUDY -> clouds(shock);
			case HIGH_COMBINED_CHLORINE -> combined(shock, additions);
			case AFTER_STORM -> {
				todo("check-power", "debris-out", "level-to-mark", "empty-baskets", "filter-24h");
				later(DAY, "later.test-all");
			}
			case AFTER_ASH -> {
				todo("ash-mask", "skim-by-hand", pool.hasWasteValve() ? "vacuum-to-waste" : "vacuum-fine", "clean-filter");
				later(DAY, "later.test-all");
				later(DAY, "later.test-phosphate");
			}
			case AFTER_HEAVY_USE -> {
				todo("empty-baskets", "filter-24h");
				once(ProductKind.MPS, NEXT_MORNING, "later.oxidizer-morning");
				later(NEXT_MORNING, "later.test-morning");
			}
			case STAINS_IRON, STAINS_MANGANESE -> metal(this.request.situation() == Situation.STAINS_IRON);
			case STAINS_COPPER -> {
				todo("copper-source", "test-copper", "copper-dilute", "copper-log");
				once(ProductKind.SEQUESTRANT, DAY, "later.sequestrant");
				later(7 * DAY, "later.test-metal");
			}
			case HIGH_PHOSPHATE -> phosphate();
			case FOAM -> {
				todo("foam-cause", (pool.body() == BodyOfWater.SPA) ? "foam-spa" : "foam-dilute", "foam-enzyme");
				later(DAY, "later.test-all");
			}
			case STABILIZER_GONE -> {
				todo("test-ammonia", "ammonia-repeat");
				this.work.add(Reason.of("work.ammonia-demand", new Term.Number(Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN, 1)));
				todo("ammonia-replace");
				hold(shock, additions, 3);
				later(5 * DAY, "later.stabilizer-back");
			}
			case LEAK_SUSPECTED -> {
				todo("autofill-off", "bucket-test", "mark-level", "leak-firm");
				later(DAY, "later.read-bucket");
				later(7 * DAY, "later.compare-drift");
			}
			case NEW_PLASTER -> plaster();
			case CELL_START -> {
				todo("cell-salt-tested", "cell-range", "cell-off-dissolving", "hand-dose-meanwhile");
				later(DAY, "later.cell-on");
				later(3 * DAY, "later.cell-output");
				later(7 * DAY, "later.test-all");
			}
			case OPENING -> {
				todo("opening-safety", "debris-out", "fill-and-prime", "opening-order", "clean-filter", "opening-photos");
				later(DAY, "later.test-all");
				later(7 * DAY, "later.test-all");
			}
			case CLOSING -> {
				todo("clean", "closing-balance", "closing-level", "closing-plumbing");
				once(ProductKind.POLYQUAT_60, DAY, "later.polyquat");
				later(30 * DAY, "later.winter-check");
			}
			case BLOOD -> todo("blood-out", "blood-test", "contamination-health-page", "contamination-log");
			default -> {
			}
		}
		if (this.request.pool().sanitizer() == Sanitizer.BROMINE) {
			todo("bromine-setting");
		}
		if (replacement != null) {
			drains(replacement);
		}
	}

	/** Where one drain takes too much at once: a part a week, each on a new test. */
	private void drains(WaterReplacement replacement) {
		later(DAY, "later.test-refilled");
		int parts = (this.request.pool().body() == BodyOfWater.SPA) ? 1 : replacement.drainCount();
		for (int part = 2; part <= parts; part++) {
			this.later.add(new FollowUpStep((part - 1) * 7 * DAY, null, null,
					Reason.of("later.drain-part", new Term.Number(part, 0), new Term.Number(parts, 0))));
		}
	}

	private void routine() {
		PoolFacts pool = this.request.pool();
		Readings readings = this.request.readings();
		todo("clean");
		boolean lowChlorine = this.assessment.is(Level.FC, LevelState.State.OUT_OF_RANGE, LevelState.Direction.LOW);
		if (lowChlorine) {
			todo((pool.sanitizer() == Sanitizer.SALT_CELL) ? "check-cell" : "check-feed");
		}
		Double cya = readings.cya();
		if (lowChlorine && cya != null && cya < CYA_NO_SHIELD && !pool.indoor() && pool.body() == BodyOfWater.POOL) {
			later(NEXT_MORNING, "later.sun-or-demand");
		}
		Double fc = readings.fc();
		if (fc != null && pool.sanitizer().usesChlorine() && fc > this.request.policy().swimCeiling() + 1e-9) {
			todo("dilute-test", "stop-feed", "cover-off");
			if (this.request.swimWithinHours() != null) {
				todo("reducer-in-halves");
			}
			later(DAY, "later.test-chlorine");
		}
		Double ta = readings.ta();
		LevelState ph = this.assessment.state(Level.PH);
		if (pool.sanitizer() == Sanitizer.SALT_CELL && ta != null && ta > TA_FEEDS_PH && ph != null
				&& ph.direction() == LevelState.Direction.HIGH) {
			todo("cell-alkalinity");
		}
		if (ta != null && this.assessment.is(Level.TA, LevelState.State.OUT_OF_RANGE, LevelState.Direction.LOW) && ph != null
				&& ph.direction() == LevelState.Direction.LOW && pool.sanitizer().usesTablets()) {
			todo("change-sanitizer");
		}
		LevelState hardness = this.assessment.state(Level.CH);
		if (hardness != null && hardness.direction() == LevelState.Direction.HIGH) {
			todo("hardness-plan");
		}
		Volume volume = pool.volume();
		if (pool.body() == BodyOfWater.SPA && volume != null) {
			spaWater(volume);
		}
	}

	/** Days until the water of a spa is changed: US gallons / 3 / bathers a day; common practice, no source. */
	private void spaWater(Volume volume) {
		double batherDays = volume.usGallons() / 3;
		this.work.add(Reason.of("work.spa-change", new Term.Days((int) Math.max(1, batherDays)),
				new Term.Days((int) Math.max(1, batherDays / 2)), new Term.Days((int) Math.max(1, batherDays / 4))));
	}

	private void clouds(@Nullable ShockLevel shock) {
		todo("check-filter", "filter-24h", "clean-filter");
		if (shock == null && !scaling(this.assessment)) {
			todo("filter-is-the-cure");
		}
		else if (scaling(this.assessment)) {
			todo("haze-cause");
		}
		later(DAY, "later.test-all");
		once(ProductKind.CLARIFIER, 2 * DAY, "later.clarifier");
	}

	private void combined(@Nullable ShockLevel shock, DosingSequence additions) {
		PoolFacts pool = this.request.pool();
		todo("oxidizer-lately");
		if (pool.indoor()) {
			todo("ventilate", "hall-empty", "dilute");
		}
		else {
			todo("cover-off", "aerate-chloramines");
		}
		Double combined = this.request.readings().combined();
		if (shock != null) {
			oxidizerInstead(combined);
			this.work.add(Reason.of("work.ammonia-demand", new Term.Number(Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN, 1)));
		}
		else if (!pool.indoor() && combined != null) {
			double fc = ShockLevel.LIGHT.fc(additions.water().water()) + combined * Breakpoint.FREE_PER_COMBINED;
			this.work.add(Reason.of("work.chlorine-instead", Term.of(Level.FC, Math.min(fc, this.request.policy().shockCeiling()))));
		}
		later(NEXT_MORNING, "later.test-morning");
		later(2 * DAY, "later.combined-again");
		later(14 * DAY, "later.combined-stays");
		todo("showers");
	}

	/** What the non-chlorine oxidizer would take by stoichiometry, within its cap. */
	private void oxidizerInstead(@Nullable Double combined) {
		Volume volume = this.request.pool().volume();
		for (Product product : this.request.products()) {
			if (volume != null && combined != null && product.onTruck() && product.kind().family() == ActiveIngredient.MONOPERSULFATE
					&& ProductEffects.computable(product)) {
				double amount = ProductEffects.amount(product, combined * Breakpoint.MONOPERSULFATE_PER_COMBINED, volume.litres());
				Double most = product.mostFor(volume.litres());
				MeasuredAmount measured = MeasuredAmount.down((most != null) ? Math.min(most, amount) : amount, product.unit(),
						this.request.units());
				this.work.add(Reason.of("work.oxidizer-instead", new Term.Amount(measured), Term.of(product.kind())));
				return;
			}
		}
	}

	private void metal(boolean iron) {
		todo(iron ? "iron-source" : "manganese-source", "test-metal", "ascorbic-spot", "chlorine-falls", "filter-24h");
		once(ProductKind.ASCORBIC, 2 * DAY, "later.ascorbic");
		once(ProductKind.SEQUESTRANT, 3 * DAY, "later.sequestrant");
		later(4 * DAY, "later.algae-watch");
		later(5 * DAY, "later.chlorine-back");
		later(7 * DAY, "later.test-metal");
		once(ProductKind.SEQUESTRANT, 30 * DAY, "later.sequestrant-monthly");
	}

	private void phosphate() {
		todo("phosphate-after-chlorine", "sequestrant-lately", "phosphate-source");
		Double phosphate = this.request.readings().phosphate();
		if (phosphate != null && phosphate <= 500) {
			todo("phosphate-not-high");
		}
		once(ProductKind.LANTHANUM, 2 * DAY, "later.lanthanum-half");
		later(3 * DAY, "later.lanthanum-filter");
		once(ProductKind.LANTHANUM, 7 * DAY, "later.lanthanum-rest");
	}

	private void plaster() {
		todo("plaster-maker", "brush-plaster", "heater-off", "plaster-chlorine");
		once(ProductKind.SEQUESTRANT, DAY, "later.sequestrant-plaster");
		for (int day = 2; day <= 6; day += 2) {
			later(day * DAY, "later.plaster-ph");
		}
		later(14 * DAY, "later.plaster-ph");
		later(28 * DAY, "later.plaster-balance");
	}

	private void todo(String... codes) {
		for (String code : codes) {
			this.work.add(Reason.of("work." + code));
		}
	}

	private static void codes(List<Reason> work, String... codes) {
		for (String code : codes) {
			work.add(Reason.of(code));
		}
	}

	private void later(double hours, String code) {
		this.later.add(new FollowUpStep(hours, null, null, Reason.of(code)));
	}

	/**
	 * FC is brought back to the level of the treatment each day until the growth is dead: the water clear and no more than 1 ppm of FC
	 * lost from dusk to dawn.
	 */
	private void hold(@Nullable ShockLevel shock, DosingSequence additions, int days) {
		Water water = additions.water().water();
		double level = water.freeChlorine();
		Product chlorine = null;
		for (DosingSequence.Addition done : additions.additions()) {
			if (done.goal().purpose() == Step.Purpose.RAISE_FC) {
				chlorine = done.product();
				// The pH that the dose was worked out at: hypochlorite lifts it only until it is used up.
				water = water.withPh(done.before().water().ph());
			}
		}
		if (shock != null) {
			level = Math.max(level, Math.min(shock.fc(water), this.request.policy().shockCeiling()));
		}
		later(NEXT_MORNING, "later.overnight");
		for (int day = 1; day <= days; day++) {
			this.later.add(new FollowUpStep(day * DAY, chlorine, null, Reason.of("later.hold", Term.of(Level.FC, level))));
		}
		later(days * DAY + NEXT_MORNING, "later.end-of-holding");
	}

	/** Names a product of the label's own rate if the company has it. */
	private void once(ProductKind kind, double hours, String code) {
		for (Product product : this.request.products()) {
			if (product.kind() == kind) {
				this.later.add(new FollowUpStep(hours, product, null, Reason.of(code, Term.of(kind))));
				return;
			}
		}
	}

}
