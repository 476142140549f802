package org.meniscus.water.treatment;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;

import org.jspecify.annotations.Nullable;

/**
 * Every way to treat the water with what is along: each chlorine that is allowed, with each acid or alkali that goes with it, is
 * carried through the equilibrium step by step, and the one that costs least by the season's end is taken. What a company wants first
 * and what the trade takes first go before cost; a way that leaves part of the chlorine for another day comes after one that does not.
 */
final class Combinations {

	/** Minutes a visit takes anyway, cleaning included; waiting beyond them is work time. Common practice, no source. */
	private static final int VISIT_MINUTES = 30;

	private static final Step.Purpose[] BALANCING = { Step.Purpose.LOWER_PH, Step.Purpose.RAISE_PH };

	/** One way, worked out. */
	private record Way(Planner planner, TrueCost cost, int left, int place, String key) {

		@Nullable Product used(Step.Purpose purpose) {
			return this.planner.additions().used(purpose);
		}

	}

	private static final Comparator<Way> ORDER = Comparator.comparingInt(Way::left)
		.thenComparingInt(Way::place)
		.thenComparingDouble(way -> Math.rint(way.cost().bySeasonEnd() * 100))
		.thenComparing(Way::key);

	private final PoolWater now;

	private final LeftBehind leftBehind;

	private final PlanRequest request;

	private final List<Way> ways = new ArrayList<>();

	Combinations(PlanRequest request, PoolWater now, double litres) {
		this.request = request;
		this.now = now;
		this.leftBehind = new LeftBehind(request, now, litres);
	}

	Planner best(Function<Selection, Planner> run) {
		Planner free = run.apply(Selection.FREE);
		List<Product> chlorines = (free.additions().used(Step.Purpose.RAISE_FC) == null) ? List.of()
				: free.choice().options(Step.Purpose.RAISE_FC, this.now);
		if (chlorines.isEmpty()) {
			balancing(free, Selection.FREE, run);
		}
		for (Product chlorine : chlorines) {
			Selection selection = Selection.FREE.with(Step.Purpose.RAISE_FC, chlorine);
			boolean same = chlorine.equals(free.additions().used(Step.Purpose.RAISE_FC));
			balancing(same ? free : run.apply(selection), selection, run);
		}
		this.ways.sort(ORDER);
		return this.ways.get(0).planner();
	}

	/** This way, and the same with every other acid or alkali. */
	private void balancing(Planner planner, Selection selection, Function<Selection, Planner> run) {
		add(planner);
		for (Step.Purpose purpose : BALANCING) {
			Product used = planner.additions().used(purpose);
			if (used == null) {
				continue;
			}
			for (Product other : planner.choice().options(purpose, this.now)) {
				if (!other.equals(used)) {
					add(run.apply(selection.with(purpose, other)));
				}
			}
		}
	}

	private void add(Planner planner) {
		Additions additions = planner.additions();
		double price = 0;
		boolean priced = true;
		int place = 0;
		int last = 0;
		StringBuilder key = new StringBuilder();
		for (Additions.Done one : additions.done()) {
			price += LeftBehind.costOf(one.product(), one.measured().amount());
			priced &= one.product().priceCents() != null;
			place += one.place();
			last = one.start();
			key.append(one.product().id()).append(' ');
		}
		int left = 0;
		for (LaterStep later : additions.later()) {
			if (later.product() != null && later.expected() != null) {
				price += LeftBehind.costOf(later.product(), later.expected().amount());
				left += later.product().kind().family().chlorine() ? 1 : 0;
			}
		}
		double waiting = Math.max(0, last - VISIT_MINUTES) / 60.0 * this.request.policy().costs().workHour();
		TrueCost cost = new TrueCost(price, waiting, this.leftBehind.between(this.now, additions.water()), priced);
		this.ways.add(new Way(planner, cost, left, place, key.toString()));
	}

	TrueCost cost() {
		return this.ways.get(0).cost();
	}

	/** The best ways with another product for the purpose of an addition, best first, each product once. */
	List<Alternative> others(Additions.Done done) {
		List<Alternative> others = new ArrayList<>();
		Way best = this.ways.get(0);
		for (Way way : this.ways) {
			for (Additions.Done other : way.planner().additions().done()) {
				Product product = other.product();
				if (other.goal().purpose() == done.goal().purpose() && !product.equals(done.product())
						&& others.stream().noneMatch(known -> known.product().equals(product))) {
					others.add(new Alternative(product, other.measured(), way.cost(), way.planner().additions().water().levels(), why(best, way)));
				}
			}
		}
		return others;
	}

	private static Reason why(Way best, Way way) {
		if (way.left() > best.left()) {
			return Reason.of("alternative.more-visits");
		}
		if (way.place() > best.place()) {
			return Reason.of("alternative.not-first");
		}
		TrueCost.Left most = null;
		for (TrueCost.Left left : way.cost().left()) {
			if (left.cost() > 0.5 && (most == null || left.cost() > most.cost())) {
				most = left;
			}
		}
		boolean dearerNow = way.cost().now() > best.cost().now() + 0.5;
		if (most != null && !dearerNow) {
			return Reason.of("alternative.leaves", new Term.Difference(most.level(), most.change()), Term.of(most.level()));
		}
		return dearerNow ? Reason.of("alternative.dearer") : Reason.of("alternative.close");
	}

}
