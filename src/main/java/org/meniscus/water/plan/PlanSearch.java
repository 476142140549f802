package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.product.Product;

/**
 * Every way to treat the water with what is along: each chlorine that is allowed, with each acid or alkali that goes with it, is
 * carried through the equilibrium step by step, and the one that costs least by the season's end is taken. What a company wants first
 * and what the trade takes first go before cost; a way that leaves part of the chlorine for another day comes after one that does not.
 */
final class PlanSearch {

	/** Minutes a visit takes anyway, cleaning included; waiting beyond them is work time. Common practice, no source. */
	private static final int VISIT_MINUTES = 30;

	private static final Step.Purpose[] BALANCING = { Step.Purpose.LOWER_PH, Step.Purpose.RAISE_PH };

	/** Goes one way through all that has to be done. */
	interface Run {

		/** @param exactly with amounts as worked out, not as measured */
		Planner of(ProductAssignment selection, boolean exactly);

	}

	/** One way, worked out. @param missing tenths of chance that chlorine misses to hold until the next visit as asked */
	private record Way(Planner planner, ProductAssignment selection, TotalCost cost, int left, int missing, int place, String key) {
	}

	private static final Comparator<Way> ORDER = Comparator.comparingInt(Way::left)
		.thenComparingInt(Way::missing)
		.thenComparingInt(Way::place)
		.thenComparingDouble(way -> Math.rint(way.cost().bySeasonEnd() * 100))
		.thenComparing(Way::key);

	private final PoolWater now;

	private final SeasonEndCost leftBehind;

	private final PlanRequest request;

	private final List<Way> ways = new ArrayList<>();

	PlanSearch(PlanRequest request, PoolWater now, double litres) {
		this.request = request;
		this.now = now;
		this.leftBehind = new SeasonEndCost(request, now, litres);
	}

	/** Tries every way exactly and goes the best one as measured out. */
	Planner best(Run run) {
		Way free = way(run.of(ProductAssignment.UNASSIGNED, true), ProductAssignment.UNASSIGNED);
		chlorines(free, run);
		free.planner()
			.tabletCounts()
			.stream()
			.map(ProductAssignment.UNASSIGNED::withTablets)
			.map(selection -> way(run.of(selection, true), selection))
			.min(ORDER)
			.ifPresent(best -> chlorines(best, run));
		this.ways.sort(ORDER);
		Way first = this.ways.get(0);
		ProductAssignment selection = ProductAssignment.UNASSIGNED.withTablets(first.selection().tablets());
		for (DosingSequence.Addition one : first.planner().additions().additions()) {
			selection = selection.with(one.goal().purpose(), one.product());
		}
		Planner measured = run.of(selection, false);
		this.ways.set(0, way(measured, selection));
		return measured;
	}

	/** This way, and the same with every other chlorine, each with every acid or alkali. */
	private void chlorines(Way way, Run run) {
		balancing(way, run);
		for (ProductAssignment other : others(way, Step.Purpose.RAISE_FC)) {
			balancing(way(run.of(other, true), other), run);
		}
	}

	/** This way, and the same with every other acid or alkali. */
	private void balancing(Way way, Run run) {
		this.ways.add(way);
		for (Step.Purpose purpose : BALANCING) {
			for (ProductAssignment other : others(way, purpose)) {
				this.ways.add(way(run.of(other, true), other));
			}
		}
	}

	/** The same way with each other product for a purpose; none where nothing went in for it. */
	private List<ProductAssignment> others(Way way, Step.Purpose purpose) {
		Product used = way.planner().additions().productFor(purpose);
		return (used == null) ? List.of() : way.planner()
			.choice()
			.bestOfEachIngredient(purpose, this.now)
			.stream()
			.filter(product -> !product.equals(used))
			.map(product -> way.selection().with(purpose, product))
			.toList();
	}

	private Way way(Planner planner, ProductAssignment selection) {
		DosingSequence additions = planner.additions();
		double price = 0;
		boolean priced = true;
		int place = 0;
		int last = 0;
		StringBuilder key = new StringBuilder();
		for (DosingSequence.Addition one : additions.additions()) {
			price += SeasonEndCost.productCost(one.product(), one.added());
			priced &= one.product().priceCents() != null;
			place += one.rank();
			last = one.startMinutes();
			key.append(one.product().id()).append(' ');
		}
		TabletSupply supply = planner.supply();
		double fc = additions.water().water().freeChlorine();
		// Without tablets every way that leaves no chlorine for later holds alike.
		int missing = (supply.tablets() == null) ? 0 : (int) Math.ceil(supply.shortfall(fc) * 10 - 1e-9);
		int left = 0;
		for (DosingSequence.DeferredDose rest : additions.deferredDoses()) {
			price += SeasonEndCost.productCost(rest.product(), rest.amount());
			left += rest.product().kind().family().chlorine() ? 1 : 0;
		}
		double waiting = Math.max(0, last - VISIT_MINUTES) / 60.0 * this.request.policy().costs().laborHour();
		TotalCost cost = new TotalCost(price, waiting, this.leftBehind.levelCosts(this.now, additions.water(), supply.fc(),
				supply.fcCarriedOver(this.now.water().freeChlorine(), fc)), priced);
		return new Way(planner, selection, cost, left, missing, place, key.toString());
	}

	TotalCost cost() {
		return this.ways.get(0).cost();
	}

	/** The best ways with another product for the purpose of an addition, best first, each product once. */
	List<Alternative> others(DosingSequence.Addition done) {
		List<Alternative> others = new ArrayList<>();
		Way best = this.ways.get(0);
		for (Way way : this.ways) {
			for (DosingSequence.Addition other : way.planner().additions().additions()) {
				Product product = other.product();
				if (instead(way, other, done) && !product.equals(done.product())
						&& others.stream().noneMatch(known -> known.product().equals(product))) {
					others.add(new Alternative(product, other.measured(), way.cost(), way.planner().additions().water().levels(),
							why(best, way)));
				}
			}
		}
		for (ProductSelector.RankedProduct ranked : best.planner().choice().allowed(done.goal().purpose(), done.before())) {
			Product product = ranked.product();
			if (!product.equals(done.product()) && others.stream().noneMatch(known -> known.product().equals(product))) {
				others.add(Alternative.rejected(product, Reason.of("alternative.same-kind")));
			}
		}
		return others;
	}

	/** In place of tablets stands what would be poured without any. */
	private static boolean instead(Way way, DosingSequence.Addition other, DosingSequence.Addition done) {
		Step.Purpose purpose = other.goal().purpose();
		return purpose == done.goal().purpose()
				|| (done.goal().purpose() == Step.Purpose.FEED && purpose == Step.Purpose.RAISE_FC && way.selection().tablets() == 0);
	}

	private static Reason why(Way best, Way way) {
		if (way.left() > best.left()) {
			return Reason.of("alternative.more-visits");
		}
		if (way.missing() > best.missing()) {
			return Reason.of("alternative.holds-less");
		}
		if (way.place() > best.place()) {
			return Reason.of("alternative.not-first");
		}
		TotalCost.LevelCost most = null;
		for (TotalCost.LevelCost left : way.cost().levelCosts()) {
			if (left.cost() > 0.5 && (most == null || left.cost() > most.cost())) {
				most = left;
			}
		}
		boolean dearerNow = way.cost().productCost() > best.cost().productCost() + 0.5;
		if (most != null && !dearerNow) {
			return Reason.of("alternative.leaves", new Term.Difference(most.level(), most.change()), Term.of(most.level()));
		}
		return dearerNow ? Reason.of("alternative.dearer") : Reason.of("alternative.close");
	}

}
