package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ApplicationMethod;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.NeverMix;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductAge;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.TimeOfDay;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/** Additions as steps for the person at the pool: how each goes in, what to beware of, what it costs, what else would do. */
final class StepWriter {

	/** Below this CYA the sun takes chlorine before it has done its work, ppm; common practice, no source. */
	private static final double CYA_SHADE = 30;

	/** Of a dose that is parted, so that a rest worth the way is left for dusk. Common practice, no source. */
	private static final double MOST_AT_ONCE = 0.8;

	/** Grams or millilitres of a bag or jug that is carried to the pool, not of a unit that a price is given for. */
	private static final double LARGE_PACKAGE = 1500;

	private static final double MANY_PACKAGES = 1.5;

	private static final Set<ApplicationMethod> AT_THE_DEEP_END = EnumSet.of(ApplicationMethod.POUR_AT_RETURN,
			ApplicationMethod.BROADCAST, ApplicationMethod.POUR_DILUTED, ApplicationMethod.DISSOLVE);

	private final PlanContext context;

	private final PoolFacts pool;

	private final PlanSearch search;

	private final ProductSelector selector;

	StepWriter(PlanContext context, PlanSearch search) {
		this.context = context;
		this.pool = context.pool();
		this.search = search;
		this.selector = context.selector(search.best().assignment());
	}

	List<Step> steps() {
		List<DosingSequence.Addition> additions = this.search.best().dosing().additions();
		List<Step> steps = new ArrayList<>();
		for (int n = 0; n < additions.size(); n++) {
			DosingSequence.Addition addition = additions.get(n);
			Product product = addition.product();
			MeasuredAmount measured = addition.measuredAmount();
			steps.add(new Step(product, addition.purpose(), (measured != null) ? addition.requiredAmount() : null, measured,
					instructions(addition, additions.subList(0, n)), this.context.afterAmmonia(addition.before()).levels(),
					this.context.afterAmmonia(addition.after()).levels(),
					addition.startMinutes(), gapMinutes(additions, n),
					this.pool.mixingHours(product.kind().waitHours()), cautions(product),
					addition.goal().reason(), addition.choiceReason(), (measured != null) ? cost(product, measured.amount()) : null,
					alternatives(addition)));
		}
		return steps;
	}

	/** The product's own, or the shorter one after which this plan goes on. */
	private int gapMinutes(List<DosingSequence.Addition> additions, int n) {
		int own = this.pool.mixingMinutes(additions.get(n).product().kind().gapMinutes());
		return (n + 1 < additions.size()) ? Math.min(own, additions.get(n + 1).startMinutes() - additions.get(n).startMinutes()) : own;
	}

	private List<Step.Alternative> alternatives(DosingSequence.Addition addition) {
		List<Step.Alternative> alternatives = new ArrayList<>();
		for (Step.Alternative alternative : this.search.alternatives(addition)) {
			// What the plan warns of it does not name as another way.
			Reason against = this.context.contraindications().warningOf(alternative.product().kind().ingredient(),
					this.search.best().dosing().additions());
			alternatives.add((against == null) ? alternative : Step.Alternative.rejected(alternative.product(), against));
		}
		for (Step.Alternative rejected : this.selector.rejected(addition.purpose(), addition.before())) {
			// What only tablets keep out stands as an alternative without them.
			if (!rejected.product().equals(addition.product())
					&& alternatives.stream().noneMatch(other -> other.product().equals(rejected.product()))) {
				alternatives.add(rejected);
			}
		}
		return alternatives;
	}

	/** Round half up of the share of the package. */
	private static @Nullable Long cost(Product product, double amount) {
		Long price = product.priceCents();
		return (price == null) ? null : Long.valueOf((long) Math.floor(amount * price / product.packageAmount() + 0.5));
	}

	private List<Reason> instructions(DosingSequence.Addition addition, List<DosingSequence.Addition> earlier) {
		ProductKind kind = addition.product().kind();
		Water before = addition.before().water();
		List<Reason> instructions = new ArrayList<>();
		instructions.add(application(kind));
		if (kind.ingredient().chlorine() && earlier.stream().anyMatch(other -> other.product().kind().ingredient().acid())) {
			instructions.add(Reason.of("apply.other-place"));
		}
		if (kind.ingredient() == ActiveIngredient.CALCIUM_HYPOCHLORITE
				&& before.ph() > ProductSelector.PH_CALCIUM_HYPOCHLORITE + ProductSelector.PH_TEST) {
			instructions.add(Reason.of("apply.ph-first", Term.of(Level.PH, ProductSelector.PH_CALCIUM_HYPOCHLORITE),
					Term.of(Level.PH, before.ph())));
		}
		if (addition.purpose() == Step.Purpose.LOWER_PH && earlier.stream().anyMatch(other -> other.purpose() == Step.Purpose.LOWER_PH)) {
			instructions.add(Reason.of("apply.second-acid", Term.of(Level.PH, addition.after().water().ph())));
		}
		timeOfDay(addition, instructions);
		agedStrength(addition.product(), instructions);
		if (addition.purpose() == Step.Purpose.FEED && this.pool.sanitizer() == Sanitizer.FLOATER) {
			instructions.add(Reason.of("apply.floater"));
		}
		if (kind.ingredient() == ActiveIngredient.SALT && this.pool.sanitizer() == Sanitizer.SALT_CELL) {
			instructions.add(Reason.of("apply.cell-off"));
		}
		if (kind.ingredient() == ActiveIngredient.SEQUESTRANT || kind.ingredient() == ActiveIngredient.LANTHANUM) {
			instructions.add(Reason.of("apply.pump-" + Wording.code(kind.ingredient())));
		}
		if (this.pool.body() == BodyOfWater.SPA) {
			instructions.add(Reason.of("apply.spa"));
		}
		packages(addition, instructions);
		teaspoons(addition, instructions);
		return instructions;
	}

	/** A spa has no deep end, and young plaster takes acid diluted only: it etches where it sinks. Common practice, no source. */
	private Reason application(ProductKind kind) {
		if (kind.isDissolvedFirst(this.pool, this.context.situation())) {
			return (this.pool.body() == BodyOfWater.SPA) ? Reason.of("apply.pre-dissolve-spa")
					: Reason.of("apply.pre-dissolve", new Term.Word("water.surface." + this.pool.surface().name()));
		}
		String code = "apply." + Wording.code(kind.application());
		if (this.pool.body() == BodyOfWater.SPA && AT_THE_DEEP_END.contains(kind.application())) {
			return Reason.of(code + "-spa");
		}
		return Reason.of((kind.ingredient().acid() && this.context.situation() == Situation.NEW_PLASTER) ? "apply.acid-diluted" : code);
	}

	/** Where too little is left to wait for dusk, what brings the minimum goes in now. */
	private void timeOfDay(DosingSequence.Addition addition, List<Reason> instructions) {
		ProductKind kind = addition.product().kind();
		Water before = addition.before().water();
		if (!kind.ingredient().chlorine() || !PoolCondition.SUNLIT.holds(this.context.request(), this.context.assessment())) {
			return;
		}
		if (kind.timeOfDay() == TimeOfDay.DUSK || this.context.shock() != null
				|| (kind.timeOfDay() == TimeOfDay.DUSK_IF_UNSTABILIZED && before.cyanuricAcid() < CYA_SHADE)) {
			atDusk(addition, before, instructions);
		}
		else if (kind.timeOfDay() == TimeOfDay.DUSK_BETTER) {
			instructions.add(Reason.of("when.dusk-better"));
		}
	}

	/** Where people come within hours, or ammonia eats what goes in, all of it goes in now: a second pour would keep everyone out again. */
	private void atDusk(DosingSequence.Addition addition, Water before, List<Reason> instructions) {
		double fc = before.freeChlorine();
		Product product = addition.product();
		Term.Word sun = new Term.Word((before.cyanuricAcid() < CYA_SHADE) ? "water.when.sun" : "water.when.sun.shaded");
		if (this.context.chlorineForAmmonia() > 0) {
			instructions.add(Reason.of("when.now-ammonia"));
			return;
		}
		Double toHold = this.context.assessment().fcToHold();
		if (toHold == null || fc >= toHold - 1e-9) {
			instructions.add(Reason.of("when.dusk", who("stop", product), sun));
			return;
		}
		MeasuredAmount now = MeasuredAmount.up(ProductEffects.amount(product, toHold - fc, this.context.litres()), product,
				this.context.request().units());
		MeasuredAmount whole = addition.measuredAmount();
		if (this.context.request().swimWithinHours() != null || whole == null || now.amount() >= MOST_AT_ONCE * whole.amount()) {
			instructions.add(Reason.of("when.now"));
			return;
		}
		instructions.add(Reason.of("when.now-rest-at-dusk", new Term.Amount(now), Term.of(Level.FC, toHold), who("rest", product), sun,
				new Term.Hours(this.pool.mixingHours(product.kind().waitHours()))));
	}

	/** Nobody of a route is there at dusk; a client may pour liquid chlorine, dry chlorine is for those who know it. @param what stop or rest */
	private static Term who(String what, Product chlorine) {
		return new Term.Word("water.when." + what + ((chlorine.kind().form() == PhysicalForm.LIQUID) ? ".or-client" : ""));
	}

	/** What does not come out even is told in packages as well: so many are carried to the pool, and emptied one by one. */
	private void packages(DosingSequence.Addition addition, List<Reason> instructions) {
		Product product = addition.product();
		MeasuredAmount measured = addition.measuredAmount();
		double size = product.packageAmount();
		if (measured == null || measured.counted() != null || size < LARGE_PACKAGE || measured.amount() < MANY_PACKAGES * size) {
			return;
		}
		instructions.add(Reason.of("apply.packages", new Term.Number(measured.amount() / size, 1),
				new Term.Amount(MeasuredAmount.down(size, product.unit(), this.context.request().units()))));
	}

	/** Less than an ounce is weighed in grams, which not every truck can: teaspoons by the bulk density of the trade's table of products. */
	private void teaspoons(DosingSequence.Addition addition, List<Reason> instructions) {
		Product product = addition.product();
		MeasuredAmount measured = addition.measuredAmount();
		if (measured == null || measured.counted() != null || product.unit() != AmountUnit.G || product.kind().form() == PhysicalForm.TABLET
				|| this.context.request().units() != UnitSystem.US || measured.amount() >= MeasuredAmount.Measure.OZ.size()) {
			return;
		}
		double spoon = product.densityOrUsual() * MeasuredAmount.Measure.TSP.size();
		instructions.add(Reason.of("apply.teaspoons", new Term.Number(Math.max(0.25, Math.rint(4 * measured.amount() / spoon) / 4), 2),
				new Term.Number(measured.amount() / MeasuredAmount.Measure.OZ.size(), 2)));
	}

	/** That the dose counts what age has left of the strength on the label. */
	private static void agedStrength(Product product, List<Reason> instructions) {
		ProductAge age = product.age();
		Double strength = product.strength();
		if (age != null && strength != null) {
			instructions.add(Reason.of("strength.aged", percent(age.labelStrength()), new Term.Days(age.days()),
					Term.of(Level.TEMPERATURE, age.storage().mean().celsius()), percent(strength)));
		}
	}

	private static Term percent(double strength) {
		return new Term.Number(100 * strength, 1);
	}

	private List<Reason> cautions(Product product) {
		ActiveIngredient ingredient = product.kind().ingredient();
		List<Reason> cautions = new ArrayList<>();
		cautions.add(Reason.of("protection." + Wording.code(product.kind().protection())));
		List<String> deadly = deadlyNearby(ingredient);
		if (!deadly.isEmpty()) {
			cautions.add(Reason.of("caution.never-with", new Term.Words(deadly)));
		}
		if (product.kind() == ProductKind.TRICHLOR_TAB) {
			cautions.add(Reason.of("caution.feeder-of-its-own"));
		}
		else if (ingredient == ActiveIngredient.CALCIUM_HYPOCHLORITE || ingredient.stabilizedChlorine()) {
			cautions.add(Reason.of("caution.dry-chlorine"));
		}
		ProductAge age = product.age();
		Double strength = product.strength();
		if (age != null && strength != null && age.tooOld(strength)) {
			cautions.add(Reason.of((this.pool.sanitizer() == Sanitizer.BROMINE) ? "caution.chlorine-old-bromine" : "caution.chlorine-old",
					new Term.Share(age.lost(strength))));
		}
		if (ingredient == ActiveIngredient.BORIC_ACID || ingredient == ActiveIngredient.BORAX) {
			cautions.add(Reason.of("caution.pets"));
		}
		return cautions;
	}

	/** Names of what this plan or this pool brings near it and must never meet it, as message keys. */
	private List<String> deadlyNearby(ActiveIngredient ingredient) {
		return nearby().stream().filter(with -> NeverMix.isNamed(ingredient, with)).map(Wording::ingredientKey).toList();
	}

	/** On the truck, to be brought or for another day, and the tablets in feeder or floater of this pool. */
	private Set<ActiveIngredient> nearby() {
		Set<ActiveIngredient> nearby = EnumSet.noneOf(ActiveIngredient.class);
		for (Product product : this.context.request().products()) {
			if (product.onTruck()) {
				nearby.add(product.kind().ingredient());
			}
		}
		DosingResult dosing = this.search.best().dosing();
		dosing.missing().forEach(missing -> nearby.add(missing.product().kind().ingredient()));
		nearby.addAll(PlanWriter.named(dosing.followUps()));
		if (this.pool.sanitizer() == Sanitizer.BROMINE) {
			nearby.add(ActiveIngredient.BROMINE_TABLETS);
		}
		else if (this.pool.sanitizer().usesTablets()) {
			nearby.add(ActiveIngredient.TRICHLOR);
		}
		return nearby;
	}

}
