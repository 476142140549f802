package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.season.SeasonValue;

/**
 * What is not to be done here and why: columns {@code do_not_use} and {@code why_not} of the trade table {@code situations.csv}. Some
 * of it keeps products out of the plan; all of it is shown. What belongs to a situation stands in {@link SituationProcedures}.
 */
final class Contraindications {

	private static final Reason OXIDIZER_TRUST = Reason.of("not.oxidizer-trust");

	private static final Contraindication ALKALI_SAME_DAY = new Contraindication(Reason.of("not.alkali-same-day"), Set.of(),
			Set.of(ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE), false);

	private static final Set<ActiveIngredient> NOT_IN_A_SPA = Set.of(ActiveIngredient.TRICHLOR, ActiveIngredient.QUAT_ALGAECIDE);

	/**
	 * @param ingredients kept out of the plan; none where it is a way of working that is warned of
	 * @param about what the sentence speaks of: it is not said beside a step with it
	 * @param yields where nothing else along brings a pool back to its minimum of FC
	 */
	private record Contraindication(Reason reason, Set<ActiveIngredient> ingredients, Set<ActiveIngredient> about, boolean yields) {

		/** A ban stands beside what follows on another day, a warning does not. */
		boolean contradicts(List<DosingSequence.Addition> additions, Set<ActiveIngredient> named) {
			return additions.stream().anyMatch(addition -> this.about.contains(addition.product().kind().ingredient()))
					|| (this.ingredients.isEmpty() && !Collections.disjoint(this.about, named));
		}

	}

	/** Hardness above which soda ash clouds and dry acid's sulfate attacks plaster, ppm. */
	private static final double CH_HARD = 400;

	/**
	 * Why a product stays out.
	 *
	 * @param yields whether it goes in all the same where nothing else along brings a pool back to its minimum of FC: what it leaves
	 * behind is slow, a pool without chlorine is not
	 * @param waitsForSwimmers whether only people who come soon keep it out
	 */
	record Rejection(Reason reason, boolean yields, boolean waitsForSwimmers) {

		static Rejection always(String code, Term... figures) {
			return new Rejection(Reason.of(code, figures), false, false);
		}

		static Rejection unlessLast(String code, Term... figures) {
			return new Rejection(Reason.of(code, figures), true, false);
		}

	}

	private final PlanRequest request;
	private final Assessment assessment;

	private final @Nullable FeedStop feedStop;

	/** No dose opens it: nobody who comes soon keeps anything out. */
	private final boolean closedAnyway;

	private final List<Contraindication> contraindications = new ArrayList<>();

	private Contraindications(PlanRequest request, Assessment assessment, @Nullable FeedStop feedStop) {
		this.request = request;
		this.feedStop = feedStop;
		this.assessment = assessment;
		this.closedAnyway = Boolean.FALSE.equals(request.readings().drainVisible()) || holds(PoolCondition.COMBINED_HIGH)
				|| SwimReadiness.of(request.pool(), request.effectiveReadings(), request.situation(), request.policy()).needsTreatment();
	}

	static Contraindications of(PlanRequest request, Assessment assessment, @Nullable FeedStop feedStop) {
		Contraindications all = new Contraindications(request, assessment, feedStop);
		for (SituationProcedure.ConditionalContraindication ofSituation : SituationProcedures.of(request.situation(), request.pool())
			.contraindications()) {
			if (ofSituation.condition().holds(request, assessment)) {
				all.contraindications.add(new Contraindication(ofSituation.reason(), ofSituation.ingredients(), ofSituation.about(),
						ofSituation.yields()));
			}
		}
		all.addStabilizer();
		all.addHardnessAndAlkalinity();
		all.addSaltCell();
		Double fc = request.readings().fc();
		if (fc != null && fc > request.policy().swimCeiling() + 1e-9 && !request.situation().metal()) {
			all.ban("reducer-by-guess", Set.of(ActiveIngredient.ASCORBIC_ACID));
		}
		all.addTraces();
		if (all.holds(PoolCondition.BROMIDE_BESIDE_OZONE)) {
			all.ban("bromide-ozone", Set.of(ActiveIngredient.SODIUM_BROMIDE));
		}
		if (request.pool().body() == BodyOfWater.SPA) {
			all.ban("spa", NOT_IN_A_SPA);
		}
		return all;
	}

	boolean closedAnyway() {
		return this.closedAnyway;
	}

	/** Why products of an ingredient stay out of this plan; null when they need not. */
	@Nullable
	Reason reasonAgainst(ActiveIngredient ingredient) {
		Reason yielding = null;
		for (Contraindication contraindication : this.contraindications) {
			if (contraindication.ingredients().contains(ingredient)) {
				if (!contraindication.yields()) {
					return contraindication.reason();
				}
				yielding = contraindication.reason();
			}
		}
		return yielding;
	}

	/** Whether all that stands against an ingredient gives way where nothing else along brings a pool back to its minimum of FC. */
	boolean yields(ActiveIngredient ingredient) {
		return this.contraindications.stream()
			.allMatch(contraindication -> contraindication.yields() || !contraindication.ingredients().contains(ingredient));
	}

	/** What keeps it out whatever else is along comes before what gives way. */
	@Nullable
	Rejection rejection(Product product, Step.Purpose purpose, PoolWater water, boolean besideTablets) {
		ActiveIngredient ingredient = product.kind().ingredient();
		Reason banned = reasonAgainst(ingredient);
		boolean yields = banned != null && yields(ingredient);
		if (purpose == Step.Purpose.RAISE_FC && ingredient == ActiveIngredient.MONOPERSULFATE) {
			return this.request.situation().growth() ? Rejection.always("reject.oxidizer-growth")
					: Rejection.always("reject.oxidizer-no-fc");
		}
		if (product.preference() == ProductPreference.NEVER) {
			return Rejection.always("reject.company");
		}
		if (banned != null && !yields) {
			return new Rejection(banned, false, false);
		}
		Rejection rejection = (purpose == Step.Purpose.FEED) ? tabletRejection(product, this.request.pool(), water)
				: rejectionOfDose(product, purpose, water, besideTablets);
		if (rejection != null && !rejection.yields()) {
			return rejection;
		}
		if (banned != null) {
			return new Rejection(banned, true, false);
		}
		double wait = this.request.pool().mixingHours(product.kind().waitHours());
		Double hours = this.closedAnyway ? null : this.request.swimWithinHours();
		if (rejection == null && purpose != Step.Purpose.FEED && hours != null && wait > hours) {
			return new Rejection(Reason.of("reject.swim-sooner", new Term.Hours(wait), new Term.Hours(hours)),
					true, true);
		}
		return rejection;
	}

	private @Nullable Rejection rejectionOfDose(Product product, Step.Purpose purpose, PoolWater water, boolean besideTablets) {
		PoolFacts pool = this.request.pool();
		ActiveIngredient ingredient = product.kind().ingredient();
		if (product.kind().dosing() == ProductKind.DoseBasis.SETTING) {
			return Rejection.always("reject.feeder-only");
		}
		if (product.kind().dosing() == ProductKind.DoseBasis.AS_LABELLED) {
			return product.bindsKnownAmount() ? null : Rejection.always("reject.label-rate");
		}
		if (!product.strengthKnown()) {
			return Rejection.always("reject.strength-unknown");
		}
		if (product.kind().avoid().contains(pool.surface())) {
			return Rejection.always("reject.surface", new Term.Word("water.surface." + pool.surface().name()));
		}
		if (purpose == Step.Purpose.RAISE_FC && besideTablets && ingredient != ActiveIngredient.SODIUM_HYPOCHLORITE) {
			return Rejection.always("reject.beside-tablets");
		}
		if (ingredient.stabilizedChlorine()) {
			return stabilizedRejection(pool, water,
					(pool.body() == BodyOfWater.SPA) ? ProductSelector.CYA_LIMIT_SPA : ProductSelector.CYA_LIMIT);
		}
		if (ingredient == ActiveIngredient.CALCIUM_HYPOCHLORITE) {
			return calciumHypochloriteRejection(pool, water);
		}
		double hardness = water.knows(Level.CH) ? water.water().calciumHardness() : 0;
		if (ingredient == ActiveIngredient.DRY_ACID && pool.sanitizer() == Sanitizer.SALT_CELL) {
			return Rejection.always("reject.sulfate-cell");
		}
		if (ingredient == ActiveIngredient.DRY_ACID && hardness > CH_HARD) {
			return Rejection.always("reject.sulfate-hard", Term.of(Level.CH, hardness), Term.of(Level.CH, CH_HARD));
		}
		if (ingredient == ActiveIngredient.SODA_ASH && hardness > CH_HARD) {
			return Rejection.always("reject.soda-ash-hard", Term.of(Level.CH, hardness), Term.of(Level.CH, CH_HARD));
		}
		return null;
	}

	/** Tablets in floater or feeder: a floater drifts against the wall, and what dissolves is acid and leaves stabilizer. */
	private @Nullable Rejection tabletRejection(Product product, PoolFacts pool, PoolWater water) {
		if (pool.body() == BodyOfWater.SPA) {
			return Rejection.always("reject.tablets-spa");
		}
		if (!product.strengthKnown() || product.tabletGrams() == null) {
			return Rejection.always("reject.strength-unknown");
		}
		if (pool.sanitizer() == Sanitizer.FLOATER && product.kind().avoid().contains(pool.surface())) {
			return Rejection.always("reject.surface", new Term.Word("water.surface." + pool.surface().name()));
		}
		Double ta = this.request.effectiveReadings().ta();
		Range alkalinity = pool.targets().range(Level.TA);
		if (ta == null || alkalinity == null) {
			return Rejection.always("reject.tablets-ta-unknown");
		}
		if (ta < alkalinity.halfwayLow() - 1e-9) {
			return Rejection.always("reject.tablets-ta", Term.of(Level.TA, ta), Term.of(Level.TA, alkalinity.idealLow()));
		}
		Double ph = this.request.readings().ph();
		Range acidity = pool.targets().range(Level.PH);
		if (ph != null && acidity != null && ph < acidity.acceptableLow() - 1e-9) {
			return Rejection.always("reject.tablets-ph", Term.of(Level.PH, ph), Term.of(Level.PH, acidity.acceptableLow()));
		}
		return stabilizedRejection(pool, water,
				SeasonValue.tabletCyaCap(pool, this.request.policy(), this.request.policy().fcCeiling()));
	}

	private @Nullable Rejection stabilizedRejection(PoolFacts pool, PoolWater water, double limit) {
		if (pool.indoor()) {
			return Rejection.always("reject.cya-indoor");
		}
		if (this.request.situation() == Situation.CLOSING) {
			return Rejection.unlessLast("reject.cya-closing");
		}
		if (!water.knows(Level.CYA)) {
			return Rejection.unlessLast("reject.cya-unknown");
		}
		double cya = water.water().cyanuricAcid();
		double most = this.request.policy().costs().limit(pool.targets().range(Level.CYA), limit);
		return (cya >= most) ? Rejection.unlessLast("reject.cya-enough", Term.of(Level.CYA, cya), Term.of(Level.CYA, most)) : null;
	}

	private @Nullable Rejection calciumHypochloriteRejection(PoolFacts pool, PoolWater water) {
		if (pool.small()) {
			return Rejection.unlessLast("reject.cal-hypo-small");
		}
		double hardness = water.water().calciumHardness();
		double most = this.request.policy().costs().limit(pool.targets().range(Level.CH), ProductSelector.CH_LIMIT);
		return (water.knows(Level.CH) && hardness >= most)
				? Rejection.unlessLast("reject.cal-hypo-hard", Term.of(Level.CH, hardness), Term.of(Level.CH, most)) : null;
	}

	/** What is said against an ingredient with a plan of these additions; null when nothing is. */
	@Nullable
	Reason warningOf(ActiveIngredient ingredient, List<DosingSequence.Addition> additions) {
		for (Contraindication contraindication : this.contraindications) {
			if (contraindication.about().contains(ingredient) && !contraindication.contradicts(additions, Set.of())) {
				return contraindication.reason();
			}
		}
		boolean calcium = additions.stream().anyMatch(addition -> addition.purpose() == Step.Purpose.RAISE_CH);
		return (calcium && ALKALI_SAME_DAY.about().contains(ingredient)) ? ALKALI_SAME_DAY.reason() : null;
	}

	/** Everything to be shown with a plan of these additions. @param named what the plan names for another day, too */
	List<Reason> warnings(List<DosingSequence.Addition> additions, Set<ActiveIngredient> named, boolean replacing) {
		List<Reason> warnings = new ArrayList<>();
		for (Contraindication contraindication : this.contraindications) {
			if (!contraindication.contradicts(additions, named)) {
				warnings.add(contraindication.reason());
			}
		}
		addForAdditions(additions, warnings);
		boolean anything = !additions.isEmpty() || replacing;
		// What is said of surfaces is about pools: a spa is emptied, and takes small doses only.
		if (anything && this.request.pool().body() == BodyOfWater.POOL) {
			addForSurface(warnings);
		}
		else if (!anything && this.request.situation() == Situation.ROUTINE && this.assessment.reasons().isEmpty()) {
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
			warn(FeedStop.againstStabilized(this.request, this.feedStop, cya), ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR);
		}
		else if (cya == null && chlorineLow) {
			ban("stabilizer-unread", Set.of());
		}
	}

	private void addHardnessAndAlkalinity() {
		Readings readings = this.request.effectiveReadings();
		Double ch = readings.ch();
		if (ch != null && ch >= ProductSelector.CH_LIMIT) {
			warn(Reason.of("not.calcium", Term.of(Level.CH, ch)), ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.SODA_ASH);
		}
		if (holds(PoolCondition.PH_LOW) && readings.ta() != null) {
			boolean low = holds(PoolCondition.TA_LOW);
			boolean tablets = this.request.pool().sanitizer().usesTablets() || this.request.forecast().phDrift().tablets() > 0;
			warn(Reason.of(!low ? "not.bicarbonate-for-ph" : tablets ? "not.more-tablets" : "not.tablets-low-alkalinity"),
					low ? ActiveIngredient.TRICHLOR : ActiveIngredient.BICARBONATE);
		}
	}

	private void addSaltCell() {
		if (this.request.pool().sanitizer() != Sanitizer.SALT_CELL) {
			return;
		}
		if (holds(PoolCondition.FC_LOW)) {
			warn(Reason.of("not.cell-habits"), ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DRY_ACID);
		}
		if (holds(PoolCondition.PH_HIGH)) {
			warn(Reason.of("not.alkali-in-salt-pool"), ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE);
		}
	}

	/** Metal that would fall out, and ammonia that uses up chlorine; situations that are about them say it themselves. */
	private void addTraces() {
		if (holds(PoolCondition.METAL_HIGH)) {
			warn(Reason.of("not.ph-up-metal"), ActiveIngredient.SODA_ASH, ActiveIngredient.BORAX, ActiveIngredient.BICARBONATE);
			if (holds(PoolCondition.METAL_TO_HOLD) && yields(ActiveIngredient.CALCIUM_HYPOCHLORITE)) {
				ban("calcium-hypochlorite-metal", Set.of(ActiveIngredient.CALCIUM_HYPOCHLORITE));
			}
			if (reasonAgainst(ActiveIngredient.COPPER_ALGAECIDE) == null) {
				ban("copper-metal", Set.of(ActiveIngredient.COPPER_ALGAECIDE));
			}
		}
		if (holds(PoolCondition.AMMONIA_PRESENT) && reasonAgainst(ActiveIngredient.CYANURIC_ACID) == null) {
			ban("stabilizer-first", Set.of(ActiveIngredient.CYANURIC_ACID, ActiveIngredient.TRICHLOR));
		}
	}

	private static void addForAdditions(List<DosingSequence.Addition> additions, List<Reason> warnings) {
		for (DosingSequence.Addition addition : additions) {
			Reason warning = switch (addition.purpose()) {
				case LOWER_PH -> (addition.goal().cause() == Level.TA) ? Reason.of("not.acid-in-one-spot") : null;
				case OXIDIZE -> OXIDIZER_TRUST;
				case RAISE_CH -> ALKALI_SAME_DAY.reason();
				case RAISE_TA -> Reason.of("not.soda-ash-for-alkalinity");
				case RAISE_SALT -> Reason.of("not.rock-salt");
				default -> null;
			};
			if (warning != null && !warnings.contains(warning)) {
				warnings.add(warning);
			}
		}
	}

	private void addForSurface(List<Reason> warnings) {
		Surface surface = this.request.pool().surface();
		if (surface == Surface.PAINTED || !surface.cementBound()) {
			warnings.add(Reason.of("not." + Wording.code(surface)));
		}
	}

	private boolean holds(PoolCondition condition) {
		return condition.holds(this.request, this.assessment);
	}

	private void ban(String code, Set<ActiveIngredient> ingredients) {
		this.contraindications.add(new Contraindication(Reason.of("not." + code), ingredients, ingredients, false));
	}

	private void warn(Reason reason, ActiveIngredient... about) {
		this.contraindications.add(new Contraindication(reason, Set.of(), Set.of(about), false));
	}

}
