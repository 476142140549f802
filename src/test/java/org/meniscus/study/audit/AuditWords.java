package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;

/** Checks that a plan does not contradict itself: steps, offers, work, notes and what it keeps out. */
final class AuditWords {

	private static final ActiveIngredient[] CHLORINES = { ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.SODIUM_HYPOCHLORITE,
			ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR };

	/** What a caution keeps out of the whole plan, by its code. */
	private static final Map<String, Set<ActiveIngredient>> KEEPS_OUT = new LinkedHashMap<>();

	/** As above, from today's steps only: it may follow once chlorine has done its work. */
	private static final Set<String> TODAY_ONLY = Set.of("not.clarifier-first", "not.stabilizer-first", "not.stabilizer-unread",
			"not.trichlor-first", "not.reducer-by-guess", "not.alkali-same-day", "not.acid-closing", "not.new-plaster", "not.copper-first");

	static {
		keepsOut("not.clarifier-first", ActiveIngredient.CLARIFIER, ActiveIngredient.FLOCCULANT);
		keepsOut("not.copper-first", ActiveIngredient.COPPER_ALGAECIDE);
		keepsOut("not.bromide-outdoors", ActiveIngredient.SODIUM_BROMIDE);
		keepsOut("not.adds-to-haze", ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE, ActiveIngredient.CALCIUM_CHLORIDE,
				ActiveIngredient.CALCIUM_HYPOCHLORITE);
		keepsOut("not.weekly-clarifier", ActiveIngredient.CLARIFIER);
		keepsOut("not.steel-or-tablet", ActiveIngredient.TRICHLOR);
		keepsOut("not.trichlor-combined", ActiveIngredient.TRICHLOR);
		keepsOut("not.dichlor-habit", ActiveIngredient.DICHLOR);
		keepsOut("not.shock-metal", CHLORINES);
		keepsOut("not.copper-metal", ActiveIngredient.COPPER_ALGAECIDE);
		keepsOut("not.oxidizer-manganese", ActiveIngredient.MONOPERSULFATE);
		keepsOut("not.more-quat", ActiveIngredient.QUAT_ALGAECIDE);
		// Dichlor has a sentence of its own, which falls away where a pool below its minimum has nothing else.
		keepsOut("not.stabilizer-first", ActiveIngredient.CYANURIC_ACID, ActiveIngredient.TRICHLOR);
		keepsOut("not.dichlor-first", ActiveIngredient.DICHLOR);
		keepsOut("not.new-plaster", ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.CALCIUM_CHLORIDE, ActiveIngredient.SALT);
		keepsOut("not.cell-start", ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DRY_ACID);
		keepsOut("not.trichlor-first", ActiveIngredient.TRICHLOR);
		keepsOut("not.copper-low-ph", ActiveIngredient.COPPER_ALGAECIDE);
		keepsOut("not.acid-closing", ActiveIngredient.MURIATIC_ACID, ActiveIngredient.DRY_ACID);
		keepsOut("not.spa", ActiveIngredient.TRICHLOR, ActiveIngredient.QUAT_ALGAECIDE);
		keepsOut("not.stabilizer-indoor", ActiveIngredient.CYANURIC_ACID, ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR);
		keepsOut("not.stabilized", ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR);
		keepsOut("not.stabilizer-unread", ActiveIngredient.CYANURIC_ACID);
		keepsOut("not.calcium", ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.SODA_ASH);
		keepsOut("not.more-tablets", ActiveIngredient.TRICHLOR);
		keepsOut("not.bicarbonate-for-ph", ActiveIngredient.BICARBONATE);
		keepsOut("not.cell-habits", ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DRY_ACID);
		keepsOut("not.alkali-in-salt-pool", ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE);
		keepsOut("not.reducer-by-guess", ActiveIngredient.ASCORBIC_ACID);
		keepsOut("not.tablets-on-cover", ActiveIngredient.TRICHLOR);
		keepsOut("not.just-in-case", ActiveIngredient.POLYQUAT_ALGAECIDE, ActiveIngredient.QUAT_ALGAECIDE,
				ActiveIngredient.COPPER_ALGAECIDE);
		keepsOut("not.more-chemicals", ActiveIngredient.values());
		keepsOut("not.alkali-same-day", ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE);
	}

	/** Other codes that the checks go by; {@code PlanAuditTests} holds that each still stands in the messages. */
	static final Set<String> CODES = Set.of("offer.tablets", "offer.feeder", "offer.cell", "offer.cover", "offer.stabilizer",
			"offer.sooner", "work.cover-off", "work.stop-feed", "work.chlorine-falls", "work.heater-off", "work.change-sanitizer",
			"work.aerate-for-ta", "work.aerate", "not.cell-cold", "not.oxidizer-trust", "note.volume-estimated", "note.fc-too-high",
			"note.tablets-bring-cya", "swim.combined", "swim.combined-indoor", "later.test-morning", "later.hold",
			"note.fc-not-held", "note.replace-first", "when.dusk", "why.ta-high", "why.combined", "later.acid-after-alkalinity",
			"later.rest-next-visit", "later.rest", "later.ammonia-again");

	private static final Pattern ZERO_AMOUNT = Pattern.compile("(^|[ (])0 (oz|lb|g|kg|mL|L|fl oz|tsp|qt|gal)\\b");

	/** Words for what goes in today; "what was dosed since" speaks of earlier visits. */
	private static final Pattern AFTER_DOSING = Pattern.compile("(?i)after dosing|after the dose|this dose|the gap|first addition");

	private static final Pattern BESIDE_NOTHING = Pattern.compile("(above|below) 0 (ppm|ppb)");

	private static final Pattern ONE_OF_MANY = Pattern.compile("(?<![\\d.])1 (tablets|drains|days|hours|packages|scoops)\\b");

	private final AuditCase at;

	private final Wording.Texts texts;

	private final List<AuditCheck.Finding> findings = new ArrayList<>();

	private AuditWords(AuditCase at, Wording.Texts texts) {
		this.at = at;
		this.texts = texts;
	}

	private static void keepsOut(String code, ActiveIngredient... ingredients) {
		Set<ActiveIngredient> set = EnumSet.noneOf(ActiveIngredient.class);
		set.addAll(List.of(ingredients));
		KEEPS_OUT.put(code, set);
	}

	static Set<String> cautions() {
		return KEEPS_OUT.keySet();
	}

	static List<AuditCheck.Finding> check(AuditCase at, Wording.Texts texts) {
		AuditWords words = new AuditWords(at, texts);
		words.forbidden();
		words.tablets();
		words.feedAndCover();
		words.drain();
		words.oxidizer();
		words.half();
		words.aerate();
		words.stabilizer();
		words.chlorineRefused();
		words.figures();
		words.bromine();
		words.outOfPlace();
		words.daily();
		words.beforeTheTest();
		return words.findings;
	}

	private void add(AuditCheck check, String format, Object... args) {
		this.findings.add(new AuditCheck.Finding(check, String.format(Locale.ROOT, format, args)));
	}

	private String text(Reason reason) {
		return reason.format(this.at.request().units(), this.texts);
	}

	private void forbidden() {
		for (Reason caution : this.at.plan().cautions()) {
			Set<ActiveIngredient> out = KEEPS_OUT.getOrDefault(caution.code(), Set.of());
			Stream<Product> named = this.at.plan().steps().stream().map(Step::product);
			if (!TODAY_ONLY.contains(caution.code())) {
				named = Stream.concat(named,
						this.at.plan().followUps().stream().map(FollowUpStep::product).filter(product -> product != null));
			}
			Stream<Product> instead = this.at.plan()
				.steps()
				.stream()
				.flatMap(step -> step.alternatives().stream())
				.filter(alternative -> alternative.measured() != null)
				.map(Step.Alternative::product);
			Stream.concat(named, instead)
				.filter(product -> out.contains(product.kind().ingredient()))
				.findFirst()
				.ifPresent(product -> add(AuditCheck.FORBIDDEN, "%s beside: %s", product.name(), text(caution)));
		}
	}

	private void tablets() {
		if (!this.at.offers("offer.tablets", "offer.feeder")) {
			return;
		}
		for (Reason caution : this.at.plan().cautions()) {
			if (KEEPS_OUT.getOrDefault(caution.code(), Set.of()).contains(ActiveIngredient.TRICHLOR)) {
				add(AuditCheck.TABLETS_OFFERED, "%s", text(caution));
				return;
			}
		}
		Surface surface = this.at.request().pool().surface();
		boolean floater = !this.at.request().pool().sanitizer().usesTablets();
		if (this.at.offers("offer.tablets") && floater
				&& (surface.lined() || surface == Surface.FIBREGLASS || surface == Surface.PAINTED)) {
			add(AuditCheck.TABLETS_OFFERED, "on %s", surface);
		}
		else if (this.at.says("work.chlorine-falls", "work.stop-feed", "work.change-sanitizer")) {
			add(AuditCheck.TABLETS_OFFERED, "beside stopping the feed or another chlorine");
		}
		else if (this.at.now().ph() < 7.2 - 1e-6 || (this.at.tested(Level.TA) && this.at.after().ta() < 60 - 1)) {
			add(AuditCheck.TABLETS_OFFERED, "acid tablets at pH %.1f, TA %.0f", this.at.now().ph(), this.at.after().ta());
		}
	}

	private void feedAndCover() {
		boolean down = this.at.says("work.stop-feed", "work.chlorine-falls", "note.fc-too-high", "work.heater-off");
		if (this.at.offers("offer.cell", "offer.feeder") && down) {
			add(AuditCheck.FEED_DOWN_AND_UP, "offered beside stopping it");
		}
		else if (this.at.offers("offer.cell") && this.at.says("not.cell-cold") && this.at.now().celsius() < (60 - 32) / 1.8) {
			add(AuditCheck.FEED_DOWN_AND_UP, "cell raised in water of %.0f C", this.at.now().celsius());
		}
		Double salt = this.at.readings().salt();
		boolean trips = salt != null && (salt < 2500 || salt > 4500) && !this.at.adds(Step.Purpose.RAISE_SALT);
		if (this.at.offers("offer.cell") && trips) {
			add(AuditCheck.FEED_DOWN_AND_UP, "cell raised at %.0f ppm of salt", salt);
		}
		if (this.at.offers("offer.cover") && this.at.says("work.cover-off")) {
			add(AuditCheck.COVER_OFF_AND_ON, "both");
		}
	}

	/** A treatment day by day is not left to itself until the next visit. */
	private void daily() {
		boolean daily = this.at.plan()
			.followUps()
			.stream()
			.anyMatch(later -> later.reason().code().equals("later.hold") && later.afterHours() <= 24);
		if (daily && (this.at.offers("offer.sooner", "offer.cover") || this.at.says("note.fc-not-held"))) {
			add(AuditCheck.DAILY_AND_LATER, "each day, and until the next visit");
		}
	}

	/** Water that goes is dosed only with what cannot wait for it: pH, alkalinity for pH, chlorine below its minimum. */
	private void drain() {
		Plan plan = this.at.plan();
		if (plan.replacement() == null) {
			return;
		}
		if (plan.replacement().share() < 0.1) {
			add(AuditCheck.DRAIN_FOR_LITTLE, "%.0f %%", 100 * plan.replacement().share());
		}
		boolean all = plan.replacement().share() > 0.99;
		boolean growth = this.at.request().situation().growth();
		for (Step step : plan.steps()) {
			boolean wasted = all || switch (step.purpose()) {
				case RAISE_CH, RAISE_CYA, RAISE_SALT, FEED, OXIDIZE, HOLD_METAL, LOWER_PHOSPHATE -> true;
				// labels name up to 10 ppm: Alden Leeds, technical document 3
				case RAISE_FC -> growth && this.at.after().fc() > 10.5;
				case LOWER_PH -> step.reason().code().equals("why.ta-high");
				default -> false;
			};
			if (wasted) {
				add(AuditCheck.DOSE_THEN_DRAIN, "%s, then %.0f %% replaced", step.purpose(), 100 * plan.replacement().share());
				return;
			}
		}
	}

	private void oxidizer() {
		boolean chlorine = this.at.request().pool().sanitizer().usesChlorine();
		// In a bromine pool bromide uses it up, and neither free nor combined chlorine is tested.
		if (!chlorine || this.at.plan()
			.steps()
			.stream()
			.noneMatch(step -> step.product().kind().ingredient() == ActiveIngredient.MONOPERSULFATE)) {
			return;
		}
		if (!this.at.says("not.oxidizer-trust")) {
			add(AuditCheck.OXIDIZER_NOT_SAID, "oxidizer goes in");
		}
		boolean combined = this.at.plan().swim().reasons().stream().anyMatch(reason -> reason.code().startsWith("swim.combined")
				&& !reason.code().contains("oxidiz"));
		boolean morning = this.at.plan()
			.followUps()
			.stream()
			.anyMatch(later -> later.reason().code().equals("later.test-morning") && later.afterHours() < 12);
		if (combined || morning) {
			add(AuditCheck.TEST_NOT_TRUSTED, combined ? "as a condition for swimming" : "within 12 hours");
		}
	}

	private void half() {
		PlanRequest request = this.at.request();
		if (request.pool().certainty() != VolumeCertainty.ESTIMATED || this.at.plan().isEmpty()
				|| this.at.sentences().map(this::text).noneMatch(text -> text.toLowerCase(Locale.ROOT).contains("add half"))) {
			return;
		}
		PlanRequest certain = new PlanRequest(request.pool().withVolume(request.pool().volume(), VolumeCertainty.CALCULATED),
				request.readings(), request.situation(), request.products(), request.policy(), request.daysToNextVisit(),
				request.swimWithinHours(), request.units(), request.lastKnown(), request.forecast());
		if (Planner.plan(certain) instanceof Plan full && !full.isEmpty()
				&& full.steps().get(0).amount() != null && full.steps().get(0).amount().equals(this.at.plan().steps().get(0).amount())) {
			add(AuditCheck.HALF_BESIDE_FULL, "%.0f of %s", full.steps().get(0).amount().amount(), full.steps().get(0).product().name());
		}
	}

	private void aerate() {
		boolean acid = this.at.adds(Step.Purpose.LOWER_PH);
		if (this.at.says("work.aerate-for-ta") && !acid) {
			add(AuditCheck.AERATE_WITHOUT_ACID, "aerate, then repeat, without acid");
		}
		else if (this.at.says("work.aerate") && acid) {
			add(AuditCheck.AERATE_WITHOUT_ACID, "aerate to lift pH beside acid");
		}
	}

	private void stabilizer() {
		if (!this.at.offers("offer.stabilizer")) {
			return;
		}
		if (this.at.adds(Step.Purpose.RAISE_CYA)) {
			add(AuditCheck.STABILIZER_OFFERED, "the plan gives it");
		}
		for (Reason caution : this.at.plan().cautions()) {
			if (caution.code().startsWith("not.stabiliz")) {
				add(AuditCheck.STABILIZER_OFFERED, "%s", text(caution));
				return;
			}
		}
	}

	private void chlorineRefused() {
		if (!this.at.says("note.fc-too-high")) {
			return;
		}
		boolean doses = this.at.adds(Step.Purpose.RAISE_FC, Step.Purpose.FEED);
		if (doses || this.at.offers("offer.tablets", "offer.feeder", "offer.cell")) {
			add(AuditCheck.CHLORINE_REFUSED, doses ? "doses it" : "offers it");
		}
	}

	/** "From 4.5 to 4.5 ppm", and a level to hold that one addition by the label cannot reach. */
	private void figures() {
		this.at.sentences().filter(reason -> reason.code().startsWith("why.") || reason.code().startsWith("swim.fc")).forEach(reason -> {
			String text = text(reason);
			List<String> values = reason.args().stream().filter(term -> term instanceof Term.Value).map(term -> Wording.format(term,
					this.at.request().units(), this.texts))
				.toList();
			if (values.size() > 1 && values.get(0).equals(values.get(1)) && text.contains("from " + values.get(0) + " to")) {
				add(AuditCheck.FROM_TO_SAME, "%s", text);
			}
		});
		for (FollowUpStep later : this.at.plan().followUps()) {
			if (later.reason().code().equals("later.hold") && later.reason().args().get(0) instanceof Term.Value hold) {
				double most = mostAtOnce();
				if (hold.value() > most + 0.1) {
					add(AuditCheck.HOLD_ABOVE_LABEL, "%s, one addition brings %.1f", text(later.reason()), most);
					return;
				}
			}
		}
	}

	private void outOfPlace() {
		PoolFacts pool = this.at.request().pool();
		if ((pool.indoor() || pool.body() == BodyOfWater.SPA) && this.at.says("work.cover-off", "when.dusk", "offer.cover")) {
			add(AuditCheck.OUT_OF_PLACE, "sun or cover in %s", pool.indoor() ? "a hall" : "a spa");
		}
		else if (pool.sanitizer() == Sanitizer.CHLORINE_BY_HAND && this.at.says("work.stop-feed")) {
			add(AuditCheck.OUT_OF_PLACE, "stops a feed where chlorine is added by hand");
		}
		else if (this.at.plan().isEmpty() && anyText(AFTER_DOSING)) {
			add(AuditCheck.OUT_OF_PLACE, "after dosing, though nothing is dosed");
		}
		else if (anyText(ONE_OF_MANY) || anyText(ZERO_AMOUNT) || anyText(BESIDE_NOTHING)) {
			add(AuditCheck.OUT_OF_PLACE, "1 tablets, an amount of nothing, or a limit of nothing");
		}
	}

	private boolean anyText(Pattern pattern) {
		return this.at.sentences().map(this::text).anyMatch(text -> pattern.matcher(text).find());
	}

	/** Storm and ash: what was tested in stirred and diluted water is tested again within a day. */
	private void beforeTheTest() {
		Situation situation = this.at.request().situation();
		if ((situation == Situation.AFTER_STORM || situation == Situation.AFTER_ASH)
				&& this.at.adds(Step.Purpose.RAISE_CYA, Step.Purpose.RAISE_CH, Step.Purpose.RAISE_SALT)) {
			add(AuditCheck.BEFORE_THE_TEST, "%s", situation);
		}
	}

	private double mostAtOnce() {
		double most = 0;
		double litres = Objects.requireNonNull(this.at.request().pool().volume()).litres();
		for (Step step : this.at.plan().steps()) {
			if (step.purpose() == Step.Purpose.RAISE_FC && AuditEffects.known(step.product())) {
				Double label = step.product().labelMaxPerM3();
				most = Math.max(most, (label == null) ? 100 : AuditEffects.chlorinePpm(step.product(), label * litres / 1000, litres));
			}
		}
		return (most == 0) ? 100 : most;
	}

	private void bromine() {
		if (this.at.request().pool().sanitizer() != Sanitizer.BROMINE) {
			return;
		}
		this.at.sentences()
			.map(this::text)
			.filter(text -> text.toLowerCase(Locale.ROOT).contains("free chlorine"))
			.findFirst()
			.ifPresent(text -> add(AuditCheck.FREE_CHLORINE_WORDS, "%s", text));
	}

}
