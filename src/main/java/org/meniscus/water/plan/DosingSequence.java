package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.MeasurementUncertainty;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.NeverMix;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.TimeOfDay;
import org.meniscus.water.units.NormalDistribution;

/** Additions of one plan, one after the other: amounts within caps, gaps between products, what has to wait for another day. */
final class DosingSequence {

	/** A gap that ends later than this is not waited for at the pool; common practice, no source. */
	static final int ON_SITE_MINUTES = 60;

	/** Largest changes in one visit: own judgement, a default of the trade facts, section 1.4. */
	static final double MAX_PH_CHANGE = 0.6;

	static final double MAX_TA_CHANGE = 40;

	static final double MAX_CH_CHANGE = 80;

	/** Small pools get chlorine in steps of so many ppm with a test between; common practice, no source. */
	static final double SMALL_FC_STEP = 4;

	/** Hours until a test after half of a doubtful dose. */
	private static final double RETEST_HOURS = 4;

	/** Acid must not bring pH below this; plaster and metal suffer. Common practice, no source. */
	private static final double PH_HARM = 7.0;

	/** FC beyond the swim ceiling that a day takes away again, ppm; common practice, no source. */
	private static final double FC_HARM = 1;

	/** How much of a product a goal takes. */
	interface RequiredAmount {

		/** Exact grams or millilitres in this water; zero or less when nothing is needed. */
		double amount(PoolWater water, Product product);

	}

	/**
	 * One thing to reach.
	 *
	 * @param fcCeiling FC that rounding up may not pass; null = amounts are rounded down
	 * @param retryHours hours until a rest that a cap leaves may go in
	 */
	record DosingGoal(Step.Purpose purpose, RequiredAmount requiredAmount, @Nullable Double fcCeiling, double retryHours, Reason reason) {
	}

	/**
	 * One addition as it was made.
	 *
	 * @param added what went in, grams or millilitres: measured out, or exactly while ways are compared
	 */
	record Addition(DosingGoal goal, Product product, int rank, Reason choice, double exact, MeasuredAmount measured, double added,
			int startMinutes,
			PoolWater before, PoolWater after) {
	}

	/** What is left for another day, grams or millilitres before rounding. */
	record DeferredDose(Product product, double amount) {
	}

	/** What else could have been taken for a purpose. */
	interface Others {

		List<Alternative> of(Addition done);

	}

	private final PlanRequest request;

	private final ProductSelector selector;

	private final boolean shock;

	private final double litres;

	private final boolean unrounded;

	private final List<FollowUpStep> followUps = new ArrayList<>();

	private final List<Addition> additions = new ArrayList<>();

	private final List<DeferredDose> deferredDoses = new ArrayList<>();

	private final List<Alternative> rejected = new ArrayList<>();

	private PoolWater water;

	/** @param exactly amounts go in unrounded: ways are compared alike in either system of units */
	DosingSequence(PlanRequest request, ProductSelector choice, boolean shock, PoolWater water, double litres, boolean exactly) {
		this.request = request;
		this.selector = choice;
		this.shock = shock;
		this.water = water;
		this.litres = litres;
		this.unrounded = exactly;
	}

	PoolWater water() {
		return this.water;
	}

	List<Addition> additions() {
		return this.additions;
	}

	List<DeferredDose> deferredDoses() {
		return this.deferredDoses;
	}

	List<FollowUpStep> followUps() {
		return this.followUps;
	}

	List<Alternative> rejected() {
		return this.rejected;
	}

	/** The product that went in for a purpose; null when none did. */
	@Nullable
	Product productFor(Step.Purpose purpose) {
		for (Addition one : this.additions) {
			if (one.goal().purpose() == purpose) {
				return one.product();
			}
		}
		return null;
	}

	/** Adds the best product for a goal; a gap that is too long makes it a later step, nothing suitable is told. */
	void add(DosingGoal goal) {
		List<ProductSelector.RankedProduct> allowed = this.selector.allowed(goal.purpose(), this.water);
		if (allowed.isEmpty()) {
			this.rejected.addAll(this.selector.rejected(goal.purpose(), this.water));
			return;
		}
		Product product = allowed.get(0).product();
		double exact = goal.requiredAmount().amount(this.water, product);
		if (!(exact > 0)) {
			return;
		}
		double most = maximumAmount(product, goal.purpose());
		Reason doubt = (exact <= most) ? reasonForHalfDose(goal, product, exact) : null;
		double today = (doubt != null) ? exact / 2 : Math.min(exact, most);
		MeasuredAmount measured = measured(product, today, most, goal);
		if (this.unrounded ? !(today > 0) : measured.isZero()) {
			return;
		}
		int start = earliestStart(product);
		if (start > ON_SITE_MINUTES) {
			this.deferredDoses.add(new DeferredDose(product, today));
			this.followUps.add(new FollowUpStep(start / 60.0, product, measured, Reason.of("later.gap", Term.of(product.kind()),
					Term.of(productBefore(start, product).kind()), new Term.Hours(start / 60.0))));
			return;
		}
		double taken = this.unrounded ? today : measured.amount();
		PoolWater after = (goal.purpose() == Step.Purpose.FEED) ? this.water : this.water.after(product, taken, this.litres);
		this.additions
			.add(new Addition(goal, product, allowed.get(0).rank(), allowed.get(0).reason(), exact, measured, taken, start, this.water,
					after));
		this.water = after;
		if (doubt != null) {
			this.deferredDoses.add(new DeferredDose(product, exact / 2));
			this.followUps.add(new FollowUpStep(start / 60.0 + RETEST_HOURS, product,
					MeasuredAmount.down(exact / 2, product, this.request.units()), doubt));
		}
		else if (exact > most * (1 + 1e-9)) {
			defer(goal, product, most, measured, start);
		}
	}

	/** Why only half goes in now: after the whole of it the level may well be past where it does harm. Null when it may not. */
	private @Nullable Reason reasonForHalfDose(DosingGoal goal, Product product, double exact) {
		Level level = goal.purpose().level();
		if (level == null || this.shock) {
			return null;
		}
		Double before = this.water.levels().value(level);
		Double after = this.water.after(product, exact, this.litres).levels().value(level);
		Range range = this.request.pool().targets().range(level);
		if (before == null || after == null || range == null) {
			return null;
		}
		double harm = switch (level) {
			case PH -> (after < before) ? PH_HARM : range.acceptableHigh();
			case FC -> Math.max(this.request.policy().swimCeiling(), after) + FC_HARM;
			default -> range.acceptableHigh();
		};
		double spread = NormalDistribution.Z80
				* MeasurementUncertainty.after(level, before, after - before, this.request.pool().certainty());
		return (spread > Math.abs(harm - after) + 1e-9) ? Reason.of("later.half", Term.of(level), new Term.Difference(level, spread))
				: null;
	}

	/** What a cap left over, for another day and on a new test. */
	private void defer(DosingGoal goal, Product product, double most, MeasuredAmount today, int start) {
		double rest = goal.requiredAmount().amount(this.water, product);
		this.deferredDoses.add(new DeferredDose(product, Math.max(0, rest)));
		MeasuredAmount next = MeasuredAmount.down(Math.max(0, Math.min(rest, most)), product, this.request.units());
		if (!next.isZero()) {
			this.followUps.add(new FollowUpStep(start / 60.0 + goal.retryHours(), product, next, Reason.of("later.rest",
					Term.of(product.kind()), new Term.Amount(today), new Term.Hours(goal.retryHours()))));
		}
	}

	List<Step> steps(Others others) {
		List<Step> steps = new ArrayList<>();
		for (Addition one : this.additions) {
			Product product = one.product();
			List<Alternative> alternatives = new ArrayList<>(others.of(one));
			for (Alternative rejected : this.selector.rejected(one.goal().purpose(), one.before())) {
				// What only tablets keep out stands as an alternative without them.
				if (alternatives.stream().noneMatch(other -> other.product().equals(rejected.product()))) {
					alternatives.add(rejected);
				}
			}
			steps.add(new Step(product, one.goal().purpose(), one.exact(), one.measured(), instructions(one), one.before().levels(),
					one.after().levels(), one.startMinutes(), product.kind().gapMinutes(), product.kind().waitHours(), cautions(product),
					one.goal().reason(), one.choice(), cost(product, one.measured().amount()), alternatives));
		}
		return steps;
	}

	/** Chlorine is rounded up where the ceiling allows, so that the aim is met; everything else down, so that it is not passed. */
	private MeasuredAmount measured(Product product, double exact, double most, DosingGoal goal) {
		double within = Math.max(0, exact);
		if (goal.fcCeiling() != null) {
			MeasuredAmount up = MeasuredAmount.up(within, product, this.request.units());
			double fc = this.water.water().freeChlorine() + ProductEffects.concentration(product, up.amount(), this.litres);
			if (up.amount() <= most * (1 + 1e-9) && fc <= goal.fcCeiling() + 1e-9) {
				return up;
			}
		}
		return MeasuredAmount.down(within, product, this.request.units());
	}

	/** Most of a product in one addition here: the label's figure and the largest changes in one visit. */
	private double maximumAmount(Product product, Step.Purpose purpose) {
		Double label = product.mostFor(this.litres);
		double most = (label != null) ? label : Double.MAX_VALUE;
		switch (purpose) {
			case LOWER_PH, RAISE_PH ->
				most = Math.min(Math.min(most, amountForPhChange(product, most)), amountForChange(product, Level.TA, MAX_TA_CHANGE));
			case RAISE_TA -> most = Math.min(most, amountForChange(product, Level.TA, MAX_TA_CHANGE));
			case RAISE_CH -> most = Math.min(most, amountForChange(product, Level.CH, MAX_CH_CHANGE));
			case RAISE_FC ->
				most = this.request.pool().small() ? Math.min(most, ProductEffects.amount(product, SMALL_FC_STEP, this.litres)) : most;
			default -> {
			}
		}
		return most;
	}

	private double amountForChange(Product product, Level level, double change) {
		double one = Math.abs(ProductEffects.lasting(product, 1, this.litres).getOrDefault(level, 0.0));
		return (one > 0) ? change / one : Double.MAX_VALUE;
	}

	/** Amount that moves pH by the largest allowed step. */
	private double amountForPhChange(Product product, double most) {
		double ph = this.water.water().ph() + (product.kind().family().acid() ? -MAX_PH_CHANGE : MAX_PH_CHANGE);
		try {
			double dose = Dosing.doseForPh(this.water.water(), ProductEffects.reagent(product.kind().family()), ph);
			return Math.min(most, ProductEffects.amount(product, dose, this.litres));
		}
		catch (IllegalArgumentException beyond) {
			// No dose moves it that far.
			return most;
		}
	}

	private int earliestStart(Product product) {
		int earliest = 0;
		for (Addition before : this.additions) {
			earliest = Math.max(earliest, before.startMinutes() + gapMinutes(before.product(), product));
		}
		return earliest;
	}

	/** The longer of the earlier product's own gap and the pair's. */
	static int gapMinutes(Product earlier, Product later) {
		return Math.max(earlier.kind().gapMinutes(), NeverMix.gapMinutes(earlier.kind().family(), later.kind().family()));
	}

	private Product productBefore(int start, Product product) {
		for (Addition before : this.additions) {
			if (before.startMinutes() + gapMinutes(before.product(), product) == start) {
				return before.product();
			}
		}
		return product;
	}

	/** Round half up of the share of the package. */
	private static @Nullable Long cost(Product product, double amount) {
		Long price = product.priceCents();
		return (price == null) ? null : Long.valueOf((long) Math.floor(amount * price / product.packageAmount() + 0.5));
	}

	private List<Reason> instructions(Addition one) {
		PoolFacts pool = this.request.pool();
		ProductKind kind = one.product().kind();
		Water before = one.before().water();
		List<Reason> instructions = new ArrayList<>();
		boolean dissolve = kind.dissolveFor().contains(pool.surface());
		instructions.add(dissolve ? Reason.of("apply.pre-dissolve", new Term.Word("water.surface." + pool.surface().name()))
				: Reason.of("apply." + Wording.code(kind.application())));
		if (kind.family().chlorine()
				&& this.additions.subList(0, this.additions.indexOf(one)).stream()
					.anyMatch(earlier -> earlier.product().kind().family().acid())) {
			instructions.add(Reason.of("apply.other-place"));
		}
		if (kind.family() == ActiveIngredient.CALCIUM_HYPOCHLORITE && before.ph() > ProductSelector.PH_CALCIUM_HYPOCHLORITE + 0.05) {
			instructions.add(Reason.of("apply.ph-first", Term.of(Level.PH, ProductSelector.PH_CALCIUM_HYPOCHLORITE)));
		}
		if (kind.family().chlorine() && !pool.indoor()) {
			if (kind.timeOfDay() == TimeOfDay.DUSK || this.shock
					|| (kind.timeOfDay() == TimeOfDay.DUSK_IF_UNSTABILIZED && before.cyanuricAcid() < 30)) {
				instructions.add(Reason.of("when.dusk"));
			}
			else if (kind.timeOfDay() == TimeOfDay.DUSK_BETTER) {
				instructions.add(Reason.of("when.dusk-better"));
			}
		}
		if (one.goal().purpose() == Step.Purpose.FEED && pool.sanitizer() == Sanitizer.FLOATER) {
			instructions.add(Reason.of("apply.floater"));
		}
		if (kind.family() == ActiveIngredient.SALT && pool.sanitizer() == Sanitizer.SALT_CELL) {
			instructions.add(Reason.of("apply.cell-off"));
		}
		if (pool.body() == BodyOfWater.SPA) {
			instructions.add(Reason.of("apply.spa"));
		}
		return instructions;
	}

	private List<Reason> cautions(Product product) {
		ActiveIngredient family = product.kind().family();
		List<Reason> cautions = new ArrayList<>();
		cautions.add(Reason.of("protection." + Wording.code(product.kind().protection())));
		List<String> never = new ArrayList<>();
		for (Product other : this.request.products()) {
			ActiveIngredient with = other.kind().family();
			String key = Wording.familyKey(with);
			if (other.onTruck() && with != family && NeverMix.of(family, with).severity() == NeverMix.Severity.DEADLY
					&& !never.contains(key)) {
				never.add(key);
			}
		}
		if (!never.isEmpty()) {
			cautions.add(Reason.of("caution.never-with", Term.of(product.kind()), new Term.Words(never)));
		}
		if (product.kind() == ProductKind.TRICHLOR_TAB) {
			cautions.add(Reason.of("caution.feeder-of-its-own"));
		}
		else if (family == ActiveIngredient.CALCIUM_HYPOCHLORITE || family.stabilizedChlorine()) {
			cautions.add(Reason.of("caution.dry-chlorine"));
		}
		if (family == ActiveIngredient.BORIC_ACID || family == ActiveIngredient.BORAX) {
			cautions.add(Reason.of("caution.pets"));
		}
		return cautions;
	}

}
