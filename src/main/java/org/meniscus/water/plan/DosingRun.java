package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.TreatedWater;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;

/**
 * One pass through everything that goes in, with one assignment of products: acid, chlorine and tablets, oxidizer, stabilizer and salt,
 * then what lifts pH, TA and CH.
 */
final class DosingRun {

	/** PH or saturation index that a state may be beyond a limit before a dose is made less. */
	private static final double TOLERANCE = 0.01;

	/** Not among what goes in at once: tablets move nothing, alkalinity follows, salt is the price of a cell. */
	private static final Set<Step.Purpose> APART = Set.of(Step.Purpose.FEED, Step.Purpose.RAISE_TA, Step.Purpose.RAISE_SALT);

	/** Each with less of what takes pH or index out of their limits; in the last less than that, so that no other is needed. */
	private static final int ROUNDS = 3;

	private final PlanContext context;

	private final ProductSelector.ProductAssignment assignment;

	private final ProductSelector selector;

	private final TabletSupply tabletSupply;

	private final DosingSequence sequence;

	private final List<Plan.Note> notes = new ArrayList<>();

	private final List<Reason> tasks = new ArrayList<>();

	private final List<FollowUpStep> tests = new ArrayList<>();

	/** Everything but acid and alkali, worked out before; null while that is done. */
	private final @Nullable DosingRun trial;

	/** Whether a gap puts off the hardness that the trial counts. */
	private boolean hardnessWaits;

	private DosingRun(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded, @Nullable DosingRun trial,
			BalanceDosing.Shares shares) {
		this.context = context;
		this.assignment = assignment;
		this.selector = context.selector(assignment);
		this.tabletSupply = context.tabletSupply().with(assignment.tablets());
		this.trial = trial;
		this.sequence = new DosingSequence(context, this.selector, unrounded, shares);
	}

	/**
	 * Everything but acid and alkali first, then all of it with the acid or alkali which that water asks for, then less of what would still
	 * take pH or saturation index out of their limits. Amounts go in unrounded, so that candidates compare alike in either system of units.
	 */
	static DosingResult unrounded(PlanContext context, ProductSelector.ProductAssignment assignment) {
		BalanceDosing.Shares shares = BalanceDosing.Shares.ALL;
		DosingRun run = of(context, assignment, true, shares);
		for (int round = 0; round < ROUNDS; round++) {
			BalanceDosing.Shares inOrder = run.sharesInOrder();
			if (inOrder.isAll()) {
				break;
			}
			shares = shares.times((round < ROUNDS - 1) ? inOrder : inOrder.certainlyLess());
			run = of(context, assignment, true, shares);
		}
		return run.result(shares);
	}

	/** The same as amounts are measured out, which differ from those of the shares. @param shares of the unrounded run */
	static DosingResult measured(PlanContext context, ProductSelector.ProductAssignment assignment, BalanceDosing.Shares shares) {
		DosingRun run = of(context, assignment, false, shares);
		BalanceDosing.Shares inOrder = shares.times(run.sharesInOrder());
		return (inOrder.equals(shares) ? run : of(context, assignment, false, inOrder)).result(inOrder);
	}

	private DosingResult result(BalanceDosing.Shares shares) {
		if (!shares.isAll()) {
			note(BalanceDosing.Shares.PURPOSES.stream().anyMatch(this::goesIn) ? "note.part-of-balance" : "note.balance-another-day");
			alkaliLater();
		}
		return this.sequence.result(shares, beyondLimits(), this.notes, this.tasks, this.tests);
	}

	private static DosingRun of(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded,
			BalanceDosing.Shares shares) {
		DosingRun trial = new DosingRun(context, assignment, true, null, shares);
		trial.dose(false);
		DosingRun run = new DosingRun(context, assignment, unrounded, trial, shares);
		run.dose(false);
		boolean alkaliFirst = run.alkaliWaitsForOthers();
		boolean hardnessWaits = trial.goesIn(Step.Purpose.RAISE_CH) && run.sequence.isPostponed(Step.Purpose.RAISE_CH);
		if (alkaliFirst || hardnessWaits) {
			run = new DosingRun(context, assignment, unrounded, trial, shares);
			run.hardnessWaits = hardnessWaits;
			run.dose(alkaliFirst);
		}
		return run;
	}

	/** Whether a gap to what can wait puts off what lifts a pH below its range. */
	private boolean alkaliWaitsForOthers() {
		return this.context.assessment().is(Level.PH, LevelState.State.OUT_OF_RANGE, LevelState.Direction.LOW)
				&& this.sequence.isPostponed(Step.Purpose.RAISE_PH)
				&& (goesIn(Step.Purpose.OXIDIZE) || goesIn(Step.Purpose.RAISE_CYA) || goesIn(Step.Purpose.RAISE_SALT));
	}

	/**
	 * Acid, chlorine and oxidizer, stabilizer and salt, then what takes hours until another product may follow.
	 *
	 * @param alkaliFirst whether what lifts pH goes before all that but acid and chlorine
	 */
	private void dose(boolean alkaliFirst) {
		PhDosing ph = new PhDosing(this);
		DosingRun others = this.trial;
		if (this.context.replacesFirst()) {
			note("note.replace-first");
			return;
		}
		if (others != null) {
			ph.lower(others);
		}
		TraceDosing traces = new TraceDosing(this);
		boolean metalFirst = this.context.holdsMetal() && this.context.pool().sanitizer().usesChlorine();
		if (metalFirst) {
			traces.metal();
		}
		boolean chlorine = this.context.pool().sanitizer().usesChlorine() && !this.context.situation().chlorineWaits();
		if (chlorine) {
			new ChlorineDosing(this).dose();
		}
		else if (this.context.pool().sanitizer() == Sanitizer.BROMINE && !this.context.situation().chlorineWaits()) {
			new OxidizerDosing(this).makeBromine();
		}
		if (others != null && alkaliFirst) {
			ph.raise(others);
		}
		if (chlorine && this.context.replacement() == null) {
			new OxidizerDosing(this).dose();
		}
		String waits = this.context.balanceWaits();
		BalanceDosing balance = new BalanceDosing(this);
		if (waits != null) {
			note(waits);
		}
		else {
			balance.stabilizerAndSalt();
		}
		if (others != null && !alkaliFirst) {
			ph.raise(others);
		}
		if (waits == null) {
			balance.alkalinityAndHardness();
		}
		else if (this.context.replacement() != null) {
			balance.leastAlkalinity();
		}
		if (this.context.holdsMetal() && !metalFirst) {
			traces.metal();
		}
		traces.phosphate();
	}

	/** The states of this trial that acid of a run is held against: what lifts alkalinity is put off by it, hardness perhaps. */
	TreatedWater treatedBeforeAcid(Range range, DosingRun run) {
		return treated(range, states(run.hardnessWaits ? new BalanceDosing.Shares(1, 1, 0) : BalanceDosing.Shares.ALL, false, false));
	}

	/**
	 * The states of the water through this run.
	 *
	 * @param range of pH
	 * @param alkalinity whether what lifts it counts: acid puts it off
	 * @param dissolved whether solid stabilizer counts, which takes days to dissolve: most of a week, common practice, no source
	 */
	TreatedWater treated(Range range, boolean alkalinity, boolean dissolved) {
		return treated(range, states(BalanceDosing.Shares.ALL, alkalinity, dissolved));
	}

	/** Salt lowers pH by its ionic strength: the price of a cell, which other doses leave room for. */
	private TreatedWater treated(Range range, List<Water> states) {
		Water settled = states.get(states.size() - 1);
		double fall = this.sequence.additions().stream().filter(addition -> addition.purpose() == Step.Purpose.RAISE_SALT).mapToDouble(
				salt -> settled.ph() - ProductEffects.after(settled, salt.product(), salt.added(), this.context.litres()).ph())
			.sum();
		return new TreatedWater(this.context.pool(), range, this.context.water(), states, fall);
	}

	/**
	 * This water, all of today but alkalinity with as much of its chlorine as people may swim in, the same with it used up, then with
	 * alkalinity, and at last with solid stabilizer.
	 *
	 * @param parts of the doses that may be less
	 */
	private List<Water> states(BalanceDosing.Shares parts, boolean alkalinity, boolean dissolved) {
		List<Water> states = new ArrayList<>();
		PoolWater start = this.context.water();
		states.add(start.water());
		PoolWater state = start;
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if (addition.added() > 0 && !APART.contains(addition.purpose()) && !addition.product().dissolvesSlowly()) {
				state = state.after(addition.product(), addition.added() * parts.of(addition.goal()), this.context.litres());
			}
		}
		double brought = state.water().freeChlorine() - start.water().freeChlorine();
		double above = Math.min(brought, state.water().freeChlorine() - this.context.request().policy().swimCeiling());
		states.add((above > 0) ? Dosing.spendChlorine(state.water(), above) : state.water());
		Water settled = (brought > 0) ? Dosing.spendChlorine(state.water(), brought) : state.water();
		states.add(settled);
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if ((alkalinity && addition.purpose() == Step.Purpose.RAISE_TA) || (dissolved && addition.product().dissolvesSlowly())) {
				settled = ProductEffects.after(settled, addition.product(), addition.added() * parts.of(addition.goal()),
						this.context.litres());
				states.add(settled);
			}
		}
		return states;
	}

	/** The largest shares of the doses that may be less which leave pH and saturation index within their limits. */
	private BalanceDosing.Shares sharesInOrder() {
		Range range = this.context.pool().targets().range(Level.PH);
		if (range == null) {
			return BalanceDosing.Shares.ALL;
		}
		boolean lowers = goesIn(Step.Purpose.OXIDIZE) || goesIn(Step.Purpose.RAISE_CYA);
		boolean lifts = goesIn(Step.Purpose.RAISE_TA) || goesIn(Step.Purpose.RAISE_CH);
		if (!lowers && !lifts) {
			return BalanceDosing.Shares.ALL;
		}
		TreatedWater whole = treated(range, true, true);
		double lifting = lifts ? liftingInOrder(whole) : 1;
		if (!lowers) {
			return new BalanceDosing.Shares(1, 1, lifting);
		}
		TreatedWater lowest = whole.with(states(new BalanceDosing.Shares(0, 0, 1)));
		TreatedWater oxidized = whole.with(states(new BalanceDosing.Shares(1, 0, 1)));
		// Combined chlorine keeps people out, the index does not: the oxidizer against it gives way to pH only.
		boolean index = this.sequence.additions().stream().noneMatch(addition -> addition.goal().cause() == Level.CC);
		boolean oxidizes = !oxidized.isLowerThan(lowest, TOLERANCE, index);
		double oxidizer = oxidizes ? 1
				: BalanceDosing.Shares
					.largest(part -> !whole.with(states(new BalanceDosing.Shares(part, 0, 1))).isLowerThan(lowest, TOLERANCE, index));
		double stabilizer = !oxidizes ? 0 : !whole.isLowerThan(oxidized, TOLERANCE, true) ? 1
				: BalanceDosing.Shares
					.largest(part -> !whole.with(states(new BalanceDosing.Shares(1, part, 1))).isLowerThan(oxidized, TOLERANCE, true));
		return new BalanceDosing.Shares(oxidizer, stabilizer, lifting);
	}

	private double liftingInOrder(TreatedWater whole) {
		TreatedWater without = whole.with(states(new BalanceDosing.Shares(1, 1, 0)));
		double acidFrom = PhDosing.acidFrom(this.context.pool());
		double highest = (without.settled().ph() < acidFrom) ? acidFrom : Double.MAX_VALUE;
		return !whole.isHigherThan(without, TOLERANCE, highest) ? 1
				: BalanceDosing.Shares
					.largest(part -> !whole.with(states(new BalanceDosing.Shares(1, 1, part))).isHigherThan(without, TOLERANCE, highest));
	}

	private List<Water> states(BalanceDosing.Shares parts) {
		return states(parts, true, true);
	}

	/** In pH or index, whichever is more. */
	private double beyondLimits() {
		Range range = this.context.pool().targets().range(Level.PH);
		if (range == null) {
			return 0;
		}
		TreatedWater treated = treated(range, true, true);
		double beyond = Math.max(treated.tooLow(), treated.tooHigh());
		return (beyond > TOLERANCE) ? beyond : 0;
	}

	List<DosingSequence.Addition> additions() {
		return this.sequence.additions();
	}

	/** Whether hardness that the trial counts goes in on another day. */
	boolean hardnessWaits() {
		return this.hardnessWaits;
	}

	/** Whether anything goes in for this today. */
	boolean goesIn(Step.Purpose purpose) {
		return this.sequence.additions().stream().anyMatch(addition -> addition.purpose() == purpose);
	}

	/** Whether anything of this goes in today. */
	boolean goesIn(ActiveIngredient ingredient) {
		return this.sequence.additions().stream().anyMatch(addition -> addition.product().kind().ingredient() == ingredient);
	}

	/** What is put off for another day may ask for alkali again: which, if any went in today. */
	private void alkaliLater() {
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if (addition.purpose() == Step.Purpose.RAISE_PH) {
				this.sequence.followUp(new FollowUpStep(this.context.nextVisitHours(), addition.product(), null,
						Reason.of("later.alkali-with-rest", Term.of(addition.product().kind()))));
				return;
			}
		}
	}

	PlanContext context() {
		return this.context;
	}

	ProductSelector.ProductAssignment assignment() {
		return this.assignment;
	}

	ProductSelector selector() {
		return this.selector;
	}

	TabletSupply tabletSupply() {
		return this.tabletSupply;
	}

	/** With the stabilizer that goes in as well; null in a pool whose chlorine has no range. */
	@Nullable
	ResidualTarget residualTarget() {
		return this.tabletSupply.residualTarget((this.trial == null) ? List.of() : this.trial.sequence.additions());
	}

	/** As it is after what has gone in so far. */
	PoolWater water() {
		return this.sequence.water();
	}

	/** {@link ProductEffects#amount} in this pool. */
	double amount(Product product, double concentration) {
		return ProductEffects.amount(product, concentration, this.context.litres());
	}

	/** Most that the label of the chlorine that would go in now brings to water without any, ppm; unlimited where it names no maximum. */
	double labelledFc() {
		List<ProductSelector.RankedProduct> allowed = this.selector.allowed(Step.Purpose.RAISE_FC, water());
		return allowed.isEmpty() ? Double.MAX_VALUE : AdditionCaps.labelledFc(allowed.get(0).product(), this.context.litres());
	}

	void add(DosingSequence.DosingGoal goal) {
		this.sequence.add(goal);
	}

	void addByLabel(DosingSequence.DosingGoal goal, Product product) {
		this.sequence.addByLabel(goal, product);
	}

	void later(DosingSequence.DosingGoal goal, double hours, String code) {
		this.sequence.later(goal, hours, code);
	}

	void note(String code) {
		note(Reason.of(code));
	}

	void note(Reason reason) {
		note(Plan.Note.today(reason));
	}

	void note(Plan.Note note) {
		this.notes.add(note);
	}

	void task(String code) {
		task(Reason.of(code));
	}

	void task(Reason reason) {
		this.tasks.add(reason);
	}

	void later(FollowUpStep step) {
		this.tests.add(step);
	}

	void test(double afterHours, String code) {
		this.tests.add(new FollowUpStep(afterHours, null, null, Reason.of(code)));
	}

}
