package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.NeverMix;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;

/** Additions of one plan, one after the other: amounts within caps, gaps between products, what has to wait for another day. */
final class DosingSequence {

	/**
	 * One product that goes in, with the water before and after it.
	 *
	 * @param rank group of the product: a lower one is always taken first
	 * @param choiceReason why this product
	 * @param requiredAmount for the whole goal, grams or millilitres before caps and rounding
	 * @param measuredAmount as it is measured out; null where the label gives the amount
	 * @param added what {@code after} was worked out with, grams or millilitres: measured out, or unrounded while candidates are compared
	 * @param startMinutes after the first addition
	 */
	record Addition(DosingSequence.DosingGoal goal, Product product, int rank, Reason choiceReason, double requiredAmount,
			@Nullable MeasuredAmount measuredAmount, double added, int startMinutes, PoolWater before, PoolWater after) {

		Step.Purpose purpose() {
			return this.goal.purpose();
		}

	}

	/**
	 * One thing that dosing is to reach.
	 *
	 * @param cause the level that asks for it, which need not be the one it moves: acid may go in because of TA; null for a refresh
	 * @param fcCeiling FC in ppm that rounding up may not pass; null: amounts are rounded down
	 * @param retryHours hours until what a cap leaves over may go in
	 */
	record DosingGoal(Step.Purpose purpose, @Nullable Level cause, RequiredAmount requiredAmount, @Nullable Double fcCeiling,
			double retryHours, Reason reason) {

		/** How much of a product a goal takes. */
		interface RequiredAmount {

			/** Grams or millilitres before rounding in this water; zero or less when nothing is needed. */
			double of(PoolWater water, Product product);

		}

		/** Amounts are rounded down. */
		DosingGoal(Step.Purpose purpose, @Nullable Level cause, RequiredAmount requiredAmount, double retryHours, Reason reason) {
			this(purpose, cause, requiredAmount, null, retryHours, reason);
		}

	}

	/** A gap that ends later than this is not waited for at the pool; common practice, no source. */
	static final int ON_SITE_MINUTES = 60;

	/** Minutes in which a sequestrant goes round; common practice, no source. */
	private static final int AFTER_SEQUESTRANT = 30;

	/** Hours until a test of chlorine after half of a doubtful dose; anything else is tested at the next visit. */
	private static final double RETEST_HOURS = 4;

	/** Share of a dose that is not left for another day. */
	static final double LITTLE = 0.05;

	/** Out of range they keep the pool closed: what is not along for them is not left for a week. */
	private static final Set<Level> CLOSING_LEVELS = EnumSet.of(Level.FC, Level.PH, Level.BROMINE);

	private final PlanContext context;

	private final PlanRequest request;

	private final ProductSelector selector;

	private final double litres;

	private final boolean unrounded;

	private final AdditionCaps caps;

	private final List<Addition> additions = new ArrayList<>();

	private final List<DosingResult.DeferredDose> deferredDoses = new ArrayList<>();

	/** What a gap puts off to the next stop. */
	private final Set<Step.Purpose> postponed = EnumSet.noneOf(Step.Purpose.class);

	private final List<Plan.FollowUpStep> followUps = new ArrayList<>();

	private final List<Step.Alternative> rejected = new ArrayList<>();

	private final List<Plan.MissingProduct> missing = new ArrayList<>();

	/** What pH and saturation index can take today. */
	private final BalanceDosing.Shares shares;

	private PoolWater water;

	/** @param unrounded amounts go in unrounded: candidates compare alike in either system of units */
	DosingSequence(PlanContext context, ProductSelector selector, boolean unrounded, BalanceDosing.Shares shares) {
		this.context = context;
		this.request = context.request();
		this.selector = selector;
		this.litres = context.litres();
		this.unrounded = unrounded;
		this.shares = shares;
		this.caps = new AdditionCaps(context);
		this.water = context.water();
	}

	PoolWater water() {
		return this.water;
	}

	List<Addition> additions() {
		return this.additions;
	}

	boolean isPostponed(Step.Purpose purpose) {
		return this.postponed.contains(purpose);
	}

	void followUp(Plan.FollowUpStep step) {
		this.followUps.add(step);
	}

	/** Acid or alkali that has to wait for another day, by the best product along; nothing where none is along. */
	void later(DosingGoal goal, double hours, String code) {
		List<ProductSelector.RankedProduct> allowed = this.selector.allowed(goal.purpose(), this.water);
		if (allowed.isEmpty()) {
			this.followUps.add(new Plan.FollowUpStep(hours, null, null, Reason.of(code)));
			return;
		}
		Product product = allowed.get(0).product();
		double amount = Math.min(goal.requiredAmount().of(this.water, product), this.caps.most(product, goal.purpose(), this.water));
		MeasuredAmount measured = MeasuredAmount.down(amount, product, this.request.units());
		if (!measured.isZero()) {
			this.deferredDoses.add(new DosingResult.DeferredDose(product, amount));
			this.followUps.add(new Plan.FollowUpStep(hours, product, measured, Reason.of(code)));
		}
	}

	/** All that went in. @param tests that the goals ask for on other days */
	DosingResult result(BalanceDosing.Shares shares, double beyondLimits, List<Plan.Note> notes, List<Reason> tasks,
			List<Plan.FollowUpStep> tests) {
		List<Plan.FollowUpStep> otherDays = new ArrayList<>(this.followUps);
		otherDays.addAll(tests);
		return new DosingResult(this.additions, this.water, shares, beyondLimits, this.postponed.size(), this.deferredDoses, otherDays,
				this.rejected, this.missing, notes, tasks);
	}

	/** Adds the best product for a goal; a gap that is too long makes it a later step, no suitable product becomes a note. */
	void add(DosingGoal goal) {
		List<ProductSelector.RankedProduct> allowed = this.selector.allowed(goal.purpose(), this.water);
		if (allowed.isEmpty()) {
			this.rejected.addAll(this.selector.rejected(goal.purpose(), this.water));
			bring(goal);
			return;
		}
		Product product = allowed.get(0).product();
		double required = goal.requiredAmount().of(this.water, product);
		if (!(required > 0)) {
			return;
		}
		double cap = this.caps.most(product, goal.purpose(), this.water);
		double first = Math.min(required, cap);
		double certain = this.caps.certainShare(goal.purpose(), product, first, this.water);
		double share = this.shares.of(goal);
		boolean part = share < 1;
		double today = certain * first * share;
		MeasuredAmount measured = measure(product, today, (certain < 1) ? today : cap, goal);
		if (this.unrounded ? !(today > 0) : measured.isZero()) {
			if (part) {
				deferForBalance(goal, product, required, cap, "later.balance-waits");
			}
			return;
		}
		int start = earliestStart(product);
		if (start > ON_SITE_MINUTES + (this.context.holdsMetal() ? AFTER_SEQUESTRANT : 0)) {
			this.postponed.add(goal.purpose());
			postpone(product, today, measured, start);
			return;
		}
		double added = this.unrounded ? today : measured.amount();
		PoolWater after = (goal.purpose() == Step.Purpose.FEED) ? this.water : this.water.after(product, added, this.litres);
		this.additions.add(new Addition(goal, product, allowed.get(0).rank(), allowed.get(0).reason(), required, measured, added, start,
				this.water, after));
		this.water = after;
		if (part) {
			deferForBalance(goal, product, required - added, cap, "later.rest-of-balance");
		}
		else if (certain < 1) {
			deferUncertain(goal, product, required - added, cap, start);
		}
		else if (required > cap * (1 + 1e-9)) {
			double second = addSecond(goal, allowed.get(0), required - added, added);
			double rest = required - added - second;
			deferRemainder(goal, product, (rest < LITTLE * required) ? 0 : rest, cap, second > 0
					? MeasuredAmount.down(added + second, product, this.request.units()) : measured);
		}
	}

	/**
	 * Acid that one addition may not hold goes in on the same visit, after a test, where the first leaves pH so high that chlorine would take it
	 * out of its range, and that chlorine need not wait for another day.
	 *
	 * @return how much of it, grams or millilitres
	 */
	private double addSecond(DosingGoal goal, ProductSelector.RankedProduct ranked, double remainder, double first) {
		Product product = ranked.product();
		int start = earliestStart(product);
		if (goal.purpose() != Step.Purpose.LOWER_PH
				|| start + this.request.pool().mixingMinutes(product.kind().gapMinutes()) > ON_SITE_MINUTES) {
			return 0;
		}
		double cap = Math.min(this.caps.most(product, goal.purpose(), this.water), this.caps.mostOfVisit(product) - first);
		double today = Math.min(Math.min(remainder, cap), this.caps.secondAcid(product, this.water));
		MeasuredAmount measured = measure(product, today, cap, goal);
		double added = this.unrounded ? Math.max(0, today) : measured.amount();
		if (!(added > LITTLE * first)) {
			return 0;
		}
		PoolWater after = this.water.after(product, added, this.litres);
		this.additions
			.add(new Addition(goal, product, ranked.rank(), ranked.reason(), remainder, measured, added, start, this.water, after));
		this.water = after;
		return added;
	}

	/** A product whose amount its label gives. */
	void addByLabel(DosingGoal goal, Product product) {
		int start = earliestStart(product);
		if (start > ON_SITE_MINUTES) {
			afterGap(product, null, start);
			return;
		}
		this.additions
			.add(new Addition(goal, product, 0, Reason.of("choice." + Wording.code(product.kind().ingredient())), 0, null, 0, start,
					this.water, this.water));
	}

	/** Nothing along serves the goal: what would, and how much of it. */
	private void bring(DosingGoal goal) {
		Product product = this.selector.notAlong(goal.purpose(), this.water);
		if (product == null) {
			return;
		}
		MeasuredAmount amount = MeasuredAmount.up(Math.max(0, goal.requiredAmount().of(this.water, product)), product,
				this.request.units());
		if (!amount.isZero()) {
			this.missing.add(new Plan.MissingProduct(goal.purpose(), product, amount, goal.cause()));
			Level level = goal.purpose().level();
			LevelState state = (level == null) ? null : this.context.assessment().state(level);
			if (state != null && CLOSING_LEVELS.contains(state.level()) && state.state() == LevelState.State.OUT_OF_RANGE) {
				this.followUps.add(new Plan.FollowUpStep(SituationProcedure.DAY, product, amount,
						Reason.of("later.bring", Term.of(product.kind()))));
			}
		}
	}

	/** What goes in after a test: the first part is certain, the rest is not. */
	private void deferUncertain(DosingGoal goal, Product product, double remainder, double cap, int start) {
		this.deferredDoses.add(new DosingResult.DeferredDose(product, remainder));
		DosingSequence.Addition last = this.additions.get(this.additions.size() - 1);
		Level level = Objects.requireNonNull(goal.purpose().level());
		double before = Objects.requireNonNull(last.before().levels().value(level));
		double after = Objects.requireNonNull(last.after().levels().value(level));
		MeasuredAmount next = MeasuredAmount.down(Math.min(remainder, cap), product, this.request.units());
		if (!next.isZero()) {
			double hours = (goal.purpose() == Step.Purpose.RAISE_FC) ? start / 60.0 + RETEST_HOURS : this.context.nextVisitHours();
			this.followUps.add(new Plan.FollowUpStep(hours, product, next,
					Reason.of("later.rest-after-test", Term.of(level),
							new Term.Difference(level, this.caps.spread(level, before, after - before)))));
		}
	}

	/** The whole dose goes in at the next stop: the gap to what went in before it ends after this one. */
	private void postpone(Product product, double amount, MeasuredAmount measured, int start) {
		this.deferredDoses.add(new DosingResult.DeferredDose(product, amount));
		afterGap(product, measured, start);
	}

	private void afterGap(Product product, @Nullable MeasuredAmount measured, int start) {
		// The next visit may need chlorine again, which would put a sequestrant off for good.
		if (product.kind() == ProductKind.SEQUESTRANT) {
			this.followUps.add(new Plan.FollowUpStep(start / 60.0, product, measured, Reason.of("later.sequestrant-after",
					Term.of(product.kind()), Term.of(productBefore(start, product).kind()), new Term.Hours(start / 60.0))));
			return;
		}
		// Calcium clouds on a day with bicarbonate: it goes in at the visit after that.
		boolean visitAfter = product.kind().ingredient() == ActiveIngredient.CALCIUM_CHLORIDE && isPostponed(Step.Purpose.RAISE_TA);
		this.followUps.add(new Plan.FollowUpStep((visitAfter ? 2 : 1) * this.context.nextVisitHours(), product, measured,
				Reason.of(visitAfter ? "later.visit-after" : "later.next-visit", Term.of(product.kind()))));
	}

	/** What pH or saturation index cannot take today goes in on another day: stabilizer not before the test that shows the first part. */
	private void deferForBalance(DosingGoal goal, Product product, double amount, double cap, String code) {
		MeasuredAmount measured = MeasuredAmount.down(Math.min(amount, cap), product, this.request.units());
		if (!measured.isZero()) {
			this.deferredDoses.add(new DosingResult.DeferredDose(product, amount));
			this.followUps
				.add(new Plan.FollowUpStep(Math.max(this.context.nextVisitHours(), goal.retryHours()), product, measured,
						Reason.of(code, Term.of(product.kind()))));
		}
	}

	/** What a cap left over, for another day and on a new test. */
	private void deferRemainder(DosingGoal goal, Product product, double remainder, double cap, MeasuredAmount today) {
		this.deferredDoses.add(new DosingResult.DeferredDose(product, Math.max(0, remainder)));
		MeasuredAmount next = MeasuredAmount.down(Math.max(0, Math.min(remainder, cap)), product, this.request.units());
		if (remainder > 1e-9 && !next.isZero()) {
			// Chlorine cannot wait for the next visit.
			Reason reason = (goal.purpose() == Step.Purpose.RAISE_FC)
					? Reason.of("later.rest", Term.of(product.kind()), new Term.Amount(today), new Term.Hours(goal.retryHours()))
					: Reason.of("later.rest-next-visit", Term.of(product.kind()), new Term.Amount(today));
			this.followUps.add(new Plan.FollowUpStep(goal.retryHours(), product, next, reason));
		}
	}

	/** Chlorine is rounded up where the ceiling allows, so that the target is met; everything else down, so that it is not passed. */
	private MeasuredAmount measure(Product product, double required, double cap, DosingGoal goal) {
		double amount = Math.max(0, required);
		if (goal.fcCeiling() != null) {
			MeasuredAmount up = MeasuredAmount.up(amount, product, this.request.units());
			double fc = this.water.water().freeChlorine() + ProductEffects.concentration(product, up.amount(), this.litres);
			if (up.amount() <= cap * (1 + 1e-9) && fc <= goal.fcCeiling() + 1e-9) {
				return up;
			}
		}
		return MeasuredAmount.down(amount, product, this.request.units());
	}

	private int earliestStart(Product product) {
		return this.additions.stream().mapToInt(before -> before.startMinutes() + gapMinutes(before, product)).max().orElse(0);
	}

	/** The longer of the earlier product's own gap and the pair's; where the pool mixes slowly longer, within one stop. */
	private int gapMinutes(Addition earlier, Product later) {
		ProductKind kind = earlier.product().kind();
		ActiveIngredient with = later.kind().ingredient();
		int usual = NeverMix.gapMinutes(kind, later.kind());
		// A sequestrant's day is for much chlorine, which destroys it (never-mix table), not for a little of it or against a corrosive pH.
		return (kind == ProductKind.SEQUESTRANT && (with.chlorine() || with.alkali())) ? AFTER_SEQUESTRANT
				: Math.max(usual, Math.min(ON_SITE_MINUTES, this.request.pool().mixingMinutes(usual)));
	}

	private Product productBefore(int start, Product product) {
		return this.additions.stream()
			.filter(before -> before.startMinutes() + gapMinutes(before, product) == start)
			.findFirst()
			.map(Addition::product)
			.orElse(product);
	}

}
