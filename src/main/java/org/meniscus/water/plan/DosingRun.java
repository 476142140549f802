package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoublePredicate;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.TreatedWater;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.units.RootFinder;

/**
 * One pass through everything that goes in, with one assignment of products: acid, chlorine and tablets, oxidizer, stabilizer and salt,
 * then what lifts pH, TA and CH.
 */
final class DosingRun {

	/** PH or saturation index that a state may be beyond a limit before a dose is made less. */
	private static final double TOLERANCE = 0.01;

	/** A smaller share of a dose is not worth while. */
	private static final double LEAST_SHARE = 0.15;

	private static final int HALVINGS = 6;

	/** Each with less of what takes pH or index out of their limits; with none of it in the last. */
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

	private DosingRun(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded, @Nullable DosingRun trial,
			DosingSequence.Shares shares) {
		this.context = context;
		this.assignment = assignment;
		this.selector = context.selector(assignment);
		this.tabletSupply = context.tabletSupply().with(assignment.tablets());
		this.trial = trial;
		this.sequence = new DosingSequence(context, this.selector, unrounded, shares);
	}

	/**
	 * Everything but acid and alkali first, then all of it with the acid or alkali which that water asks for, then less of what would still
	 * take pH or saturation index out of their limits.
	 *
	 * @param unrounded amounts go in unrounded, so that candidates compare alike in either system of units
	 */
	static DosingResult of(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded) {
		DosingSequence.Shares shares = DosingSequence.Shares.ALL;
		DosingRun run = of(context, assignment, unrounded, shares);
		for (int round = 0; round < ROUNDS; round++) {
			DosingSequence.Shares inOrder = run.sharesInOrder();
			if (inOrder.isAll()) {
				break;
			}
			shares = shares.times((round < ROUNDS - 1) ? inOrder : new DosingSequence.Shares((inOrder.lowering() < 1) ? 0 : 1,
					(inOrder.lifting() < 1) ? 0 : 1));
			run = of(context, assignment, unrounded, shares);
		}
		if (!shares.isAll()) {
			run.note("note.part-of-balance");
			run.alkaliLater();
		}
		return run.sequence.result(run.beyondLimits(), run.notes, run.tasks, run.tests);
	}

	private static DosingRun of(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded,
			DosingSequence.Shares shares) {
		DosingRun trial = new DosingRun(context, assignment, true, null, shares);
		trial.dose();
		DosingRun run = new DosingRun(context, assignment, unrounded, trial, shares);
		run.dose();
		return run;
	}

	/** Acid, chlorine and oxidizer, stabilizer and salt, then what takes hours until another product may follow. */
	private void dose() {
		if (this.context.replacesFirst()) {
			note("note.replace-first");
			return;
		}
		PhDosing ph = new PhDosing(this);
		DosingRun others = this.trial;
		if (others != null) {
			ph.lower(others);
		}
		if (this.context.pool().sanitizer().usesChlorine() && !this.context.situation().chlorineWaits()) {
			new ChlorineDosing(this).dose();
			if (this.context.replacement() == null) {
				new OxidizerDosing(this).dose();
			}
		}
		else if (this.context.pool().sanitizer() == Sanitizer.BROMINE && !this.context.situation().chlorineWaits()) {
			new OxidizerDosing(this).makeBromine();
		}
		String waits = this.context.balanceWaits();
		BalanceDosing balance = new BalanceDosing(this);
		if (waits != null) {
			note(waits);
		}
		else {
			balance.stabilizerAndSalt();
		}
		if (others != null && this.context.phMayRise()) {
			ph.raise(others);
		}
		if (waits == null) {
			balance.alkalinityAndHardness();
		}
		else if (this.context.replacement() != null) {
			balance.leastAlkalinity();
		}
		new TraceDosing(this).dose();
	}

	/** The states of the water through this run. @param range of pH */
	TreatedWater treated(Range range) {
		return new TreatedWater(this.context.pool(), range, this.context.water(), states(DosingSequence.Shares.ALL));
	}

	/**
	 * This water, all of today but alkalinity, the same with its chlorine used up, then alkalinity, which acid puts off, and each dose that
	 * a gap puts off.
	 *
	 * @param parts of the doses that may be less
	 */
	private List<Water> states(DosingSequence.Shares parts) {
		List<Water> states = new ArrayList<>();
		PoolWater start = this.context.water();
		states.add(start.water());
		PoolWater state = start;
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if (addition.purpose() != Step.Purpose.FEED && addition.purpose() != Step.Purpose.RAISE_TA) {
				state = state.after(addition.product(), addition.added() * parts.of(addition.goal()), this.context.litres());
			}
		}
		states.add(state.water());
		double brought = state.water().freeChlorine() - start.water().freeChlorine();
		Water settled = (brought > 0) ? Dosing.spendChlorine(state.water(), brought) : state.water();
		states.add(settled);
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if (addition.purpose() == Step.Purpose.RAISE_TA) {
				settled = ProductEffects.after(settled, addition.product(), addition.added() * parts.of(addition.goal()),
						this.context.litres());
				states.add(settled);
			}
		}
		for (DosingSequence.PostponedDose later : this.sequence.postponed()) {
			settled = ProductEffects.after(settled, later.product(), later.amount() * parts.of(later.goal()), this.context.litres());
			states.add(settled);
		}
		return states;
	}

	/** The largest shares of the doses that may be less which leave pH and saturation index within their limits. */
	private DosingSequence.Shares sharesInOrder() {
		Range range = this.context.pool().targets().range(Level.PH);
		if (range == null || !hasReducible()) {
			return DosingSequence.Shares.ALL;
		}
		TreatedWater whole = treated(range);
		TreatedWater lower = whole.with(states(new DosingSequence.Shares(0, 1)));
		double lowering = !whole.isLowerThan(lower, TOLERANCE) ? 1
				: largest(part -> !whole.with(states(new DosingSequence.Shares(part, 1))).isLowerThan(lower, TOLERANCE));
		TreatedWater higher = whole.with(states(new DosingSequence.Shares(1, 0)));
		double lifting = !whole.isHigherThan(higher, TOLERANCE) ? 1
				: largest(part -> !whole.with(states(new DosingSequence.Shares(1, part))).isHigherThan(higher, TOLERANCE));
		return new DosingSequence.Shares(lowering, lifting);
	}

	private static double largest(DoublePredicate inOrder) {
		double share = RootFinder.bisect(0, 1, HALVINGS, inOrder).low();
		return (share < LEAST_SHARE) ? 0 : share;
	}

	/** In pH or index, whichever is more. */
	private double beyondLimits() {
		Range range = this.context.pool().targets().range(Level.PH);
		if (range == null) {
			return 0;
		}
		TreatedWater treated = treated(range);
		double beyond = Math.max(treated.tooLow(), treated.tooHigh());
		return (beyond > TOLERANCE) ? beyond : 0;
	}

	/** Before stabilizer, which takes days to dissolve; all of today without any. */
	PoolWater beforeStabilizer() {
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if (addition.purpose() == Step.Purpose.RAISE_CYA) {
				return addition.before();
			}
		}
		return this.sequence.water();
	}

	/** Whether anything went in, or will once a gap is over, that may be less today. */
	private boolean hasReducible() {
		return this.sequence.additions().stream()
			.anyMatch(addition -> addition.purpose().lowersBalance() || addition.purpose().liftsBalance())
				|| this.sequence.postponed().stream().anyMatch(later -> later.purpose().lowersBalance() || later.purpose().liftsBalance());
	}

	/** Whether anything goes in for this, today or once a gap is over. */
	boolean goesIn(Step.Purpose purpose) {
		return this.sequence.additions().stream().anyMatch(addition -> addition.purpose() == purpose)
				|| this.sequence.postponed().stream().anyMatch(later -> later.purpose() == purpose);
	}

	/** Whether anything of this goes in today. */
	boolean goesIn(ActiveIngredient ingredient) {
		return this.sequence.additions().stream().anyMatch(addition -> addition.product().kind().ingredient() == ingredient);
	}

	/** What is put off for another day may ask for alkali again: which, if any went in today. */
	private void alkaliLater() {
		for (DosingSequence.Addition addition : this.sequence.additions()) {
			if (addition.purpose() == Step.Purpose.RAISE_PH) {
				this.sequence.followUp(new FollowUpStep(DosingSequence.BALANCE_HOURS, addition.product(), null,
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
		return allowed.isEmpty() ? Double.MAX_VALUE : labelledFc(allowed.get(0).product(), this.context.litres());
	}

	static double labelledFc(Product chlorine, double litres) {
		Double most = chlorine.mostFor(litres);
		return (most == null) ? Double.MAX_VALUE : ProductEffects.concentration(chlorine, most, litres);
	}

	void add(DosingSequence.DosingGoal goal) {
		this.sequence.add(goal);
	}

	/** {@link DosingSequence#addByLabel}. */
	void addByLabel(DosingSequence.DosingGoal goal, Product product) {
		this.sequence.addByLabel(goal, product);
	}

	/** {@link DosingSequence#later}. */
	void later(DosingSequence.DosingGoal goal, double hours, String code) {
		this.sequence.later(goal, hours, code);
	}

	void note(String code) {
		note(Reason.of(code));
	}

	void note(Reason reason) {
		this.notes.add(Plan.Note.today(reason));
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
