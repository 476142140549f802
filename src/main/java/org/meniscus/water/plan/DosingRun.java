package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;

/**
 * One pass through everything that goes in, with one assignment of products: acid, chlorine and tablets, oxidizer, then what lifts
 * pH, TA, CH, CYA and salt.
 */
final class DosingRun {

	private final PlanContext context;

	private final ProductSelector.ProductAssignment assignment;

	private final ProductSelector selector;

	private final TabletSupply tabletSupply;

	private final DosingSequence sequence;

	private final List<Plan.Note> notes = new ArrayList<>();

	private final List<Reason> tasks = new ArrayList<>();

	private final List<FollowUpStep> tests = new ArrayList<>();

	private DosingRun(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded) {
		this.context = context;
		this.assignment = assignment;
		this.selector = context.selector(assignment);
		this.tabletSupply = context.tabletSupply().with(assignment.tablets());
		this.sequence = new DosingSequence(context, this.selector, unrounded);
	}

	/** @param unrounded amounts go in unrounded, so that candidates compare alike in either system of units */
	static DosingResult of(PlanContext context, ProductSelector.ProductAssignment assignment, boolean unrounded) {
		DosingRun run = new DosingRun(context, assignment, unrounded);
		PhDosing ph = new PhDosing(run);
		ph.lower();
		if (context.pool().sanitizer().usesChlorine() && !context.situation().chlorineWaits()) {
			new ChlorineDosing(run).dose();
			new OxidizerDosing(run).dose();
		}
		String balanceWaits = context.procedure().balanceWaits();
		if (context.replacement() != null) {
			run.note("note.balance-after-replacing");
		}
		else if (balanceWaits != null) {
			run.note(balanceWaits);
		}
		else {
			ph.raise();
			new BalanceDosing(run).dose();
		}
		return run.sequence.result(run.notes, run.tasks, run.tests);
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

	/** Null in a pool whose chlorine has no range. */
	@Nullable
	ResidualTarget residualTarget() {
		return this.tabletSupply.residualTarget();
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
		this.tasks.add(Reason.of(code));
	}

	void later(FollowUpStep step) {
		this.tests.add(step);
	}

	void test(double afterHours, String code) {
		this.tests.add(new FollowUpStep(afterHours, null, null, Reason.of(code)));
	}

}
