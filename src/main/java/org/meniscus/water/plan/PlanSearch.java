package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

import org.meniscus.water.assess.Assessor;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.season.SeasonValue;
import org.meniscus.water.season.TotalCost;

/**
 * Every way to treat the water with what is on the truck: each chlorine that is allowed, with each acid or alkali that goes with it, is
 * carried through the equilibrium step by step, and the one that costs least, what stays in the water counted, is taken. What a company wants first
 * and what the trade takes first go before cost; what leaves part of the chlorine for another day, or pH out of its range, comes after
 * what does not.
 */
final class PlanSearch {

	/**
	 * One way to treat the water, worked out and scored.
	 *
	 * @param leavesPhOut whether pH stays out of its acceptable range until another visit
	 * @param closedCost price of the time from now on which people are kept out of a pool that its doses open
	 * @param spared cost of stabilizer that does not count against tablets
	 * @param deferredChlorine chlorine doses left for another day, named or not
	 * @param rank sum of the ranks of its products: what a company wants first and what the trade takes first
	 * @param productIds in the order they go in; settles ties
	 */
	record Candidate(ProductSelector.ProductAssignment assignment, DosingResult dosing, TotalCost cost, boolean leavesPhOut,
			double closedCost, double spared, int deferredChlorine, int rank, String productIds) {

		/** Best first; cost in hundredths of a minor unit, so that rounding errors do not decide. */
		static final Comparator<Candidate> BEST_FIRST = Comparator.comparingInt(Candidate::deferredChlorine)
			.thenComparing(Candidate::leavesPhOut)
			.thenComparingInt(candidate -> (int) Math.ceil(candidate.dosing().beyondLimits() * 10))
			.thenComparingInt(Candidate::rank)
			.thenComparingInt(candidate -> candidate.dosing().postponed())
			.thenComparingDouble(candidate -> Math.rint(candidate.weighed() * 100))
			.thenComparing(Candidate::productIds);

		private double weighed() {
			return this.cost.objective() + this.closedCost - this.spared;
		}

	}

	/** Minutes a visit takes anyway, cleaning included; waiting beyond them is work time. Common practice, no source. */
	private static final int VISIT_MINUTES = 30;

	/** Half a step of a pH test: a test does not show less. */
	private static final double PH_SEEN = 0.05;

	/** Smaller differences of cost are ties, minor units. */
	private static final double SAME_COST = 0.5;

	/** What measuring out may leave of a dose, ppm FC. */
	private static final double MEASURED = 0.1;

	private static final Step.Purpose[] BALANCING = { Step.Purpose.LOWER_PH, Step.Purpose.RAISE_PH, Step.Purpose.RAISE_BROMINE };

	private final PlanContext context;

	private final LastingCost lastingCost;

	/** Of one day below the minimum FC at today's temperature, minor units. */
	private final double dayBelowMinimum;

	/** FC below which no pool is left that it has chlorine for, ppm. */
	private final double least;

	/** Best first; the best with amounts as measured out, the others unrounded. */
	private final List<Candidate> candidates = new ArrayList<>();

	private PlanSearch(PlanContext context) {
		this.context = context;
		this.least = Assessor.fcToReach(context.pool(), context.effectiveReadings(), context.request().policy());
		this.lastingCost = new LastingCost(context.request(), context.water(), context.prices(), context.season());
		this.dayBelowMinimum = context.request().policy().dayBelowMinimum()
				* SeasonValue.warmth(context.water().water().temperature().celsius());
	}

	/** Compares candidates with unrounded amounts, then measures out the best one. */
	static PlanSearch of(PlanContext context) {
		PlanSearch search = new PlanSearch(context);
		search.addWithOtherChlorines(search.evaluate(ProductSelector.ProductAssignment.UNASSIGNED));
		context.tabletCounts()
			.stream()
			.map(count -> search.evaluate(ProductSelector.ProductAssignment.UNASSIGNED.withTablets(count)))
			.min(Candidate.BEST_FIRST)
			.ifPresent(search::addWithOtherChlorines);
		search.candidates.sort(Candidate.BEST_FIRST);
		search.measureBest();
		return search;
	}

	/** The best candidate whose chlorine, or what makes bromine, is not less than the smallest mark can measure. */
	private void measureBest() {
		for (Candidate candidate : this.candidates) {
			Candidate measured = measured(candidate);
			if (Stream.of(Step.Purpose.RAISE_FC, Step.Purpose.RAISE_BROMINE)
				.allMatch(purpose -> candidate.dosing().productFor(purpose) == null || measured.dosing().productFor(purpose) != null)) {
				this.candidates.remove(candidate);
				this.candidates.add(0, measured);
				return;
			}
		}
		this.candidates.set(0, measured(best()));
	}

	Candidate best() {
		return this.candidates.get(0);
	}

	/** This candidate, and the same with every other chlorine, each with every acid or alkali. */
	private void addWithOtherChlorines(Candidate candidate) {
		addWithOtherBalancing(candidate);
		for (ProductSelector.ProductAssignment other : variants(candidate, Step.Purpose.RAISE_FC)) {
			addWithOtherBalancing(evaluate(other));
		}
	}

	/** This candidate, and the same with every other acid or alkali. */
	private void addWithOtherBalancing(Candidate candidate) {
		this.candidates.add(candidate);
		for (Step.Purpose purpose : BALANCING) {
			for (ProductSelector.ProductAssignment other : variants(candidate, purpose)) {
				this.candidates.add(evaluate(other));
			}
		}
	}

	/** The same with each other product for a purpose; none where nothing went in for it. */
	private List<ProductSelector.ProductAssignment> variants(Candidate candidate, Step.Purpose purpose) {
		Product used = candidate.dosing().productFor(purpose);
		return (used == null) ? List.of() : this.context.selector(candidate.assignment())
			.bestOfEachIngredient(purpose, this.context.water())
			.stream()
			.filter(product -> !product.equals(used))
			.map(product -> candidate.assignment().with(purpose, product))
			.toList();
	}

	private Candidate measured(Candidate candidate) {
		ProductSelector.ProductAssignment assignment = ProductSelector.ProductAssignment.UNASSIGNED
			.withTablets(candidate.assignment().tablets());
		for (DosingSequence.Addition addition : candidate.dosing().additions()) {
			assignment = assignment.with(addition.purpose(), addition.product());
		}
		return score(assignment, DosingRun.measured(this.context, assignment, candidate.dosing().shares()));
	}

	private Candidate evaluate(ProductSelector.ProductAssignment assignment) {
		return score(assignment, DosingRun.unrounded(this.context, assignment));
	}

	private Candidate score(ProductSelector.ProductAssignment assignment, DosingResult dosing) {
		double price = 0;
		boolean allPriced = true;
		int rank = 0;
		int lastStart = 0;
		StringBuilder productIds = new StringBuilder();
		for (DosingSequence.Addition addition : dosing.additions()) {
			price += PriceList.cost(addition.product(), addition.added());
			allPriced &= addition.product().priceCents() != null;
			rank += addition.rank();
			lastStart = addition.startMinutes();
			productIds.append(addition.product().id()).append(' ');
		}
		int deferredChlorine = 0;
		double later = 0;
		for (DosingResult.DeferredDose deferred : dosing.deferredDoses()) {
			later += PriceList.cost(deferred.product(), deferred.amount());
			deferredChlorine += deferred.product().kind().ingredient().chlorine() ? 1 : 0;
		}
		TabletSupply supply = this.context.tabletSupply().with(assignment.tablets());
		double fc = dosing.freeChlorine();
		if (this.context.pool().sanitizer().usesChlorine() && fc < this.least - MEASURED) {
			deferredChlorine++;
		}
		double waiting = Math.max(0, lastStart - VISIT_MINUTES) / 60.0 * this.context.request().policy().costs().laborHour();
		// Without tablets every candidate that leaves no chlorine for later holds alike.
		double shortage = (supply.tablets() == null) ? 0 : supply.expectedDaysBelow(fc) * this.dayBelowMinimum;
		TotalCost cost = new TotalCost(price, later, waiting, shortage,
				this.lastingCost.levelCosts(this.context.water(), dosing.water(), supply.fc(), dosing.deferredDoses(),
						supply.fcCarriedOver(this.context.water().water().freeChlorine(), fc)),
				allPriced);
		return new Candidate(assignment, dosing, cost, leavesPhOut(dosing), closedCost(dosing), sparedCost(supply, dosing, cost),
				deferredChlorine, rank, productIds.toString());
	}

	/**
	 * Chlorine for the days until the next visit goes before room for stabilizer: what tablets leave of it within the pool's ideal range is
	 * no reason to go without them.
	 */
	private double sparedCost(TabletSupply supply, DosingResult dosing, TotalCost cost) {
		Range range = this.context.pool().targets().range(Level.CYA);
		double tablets = supply.fc() * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
		if (range == null || tablets == 0) {
			return 0;
		}
		double end = dosing.water().water().cyanuricAcid() + supply.cyaToCome();
		double within = Math.max(0, Math.min(tablets, range.idealHigh() - (end - tablets)));
		return cost.levelCosts()
			.stream()
			.filter(level -> level.level() == Level.CYA && level.change() > 0 && level.cost() > 0)
			.mapToDouble(level -> level.cost() * Math.min(1, within / level.change()))
			.sum();
	}

	private boolean leavesPhOut(DosingResult dosing) {
		Range range = this.context.pool().targets().range(Level.PH);
		Water after = dosing.water().water();
		double chlorine = Math.max(0, after.freeChlorine() - this.context.water().water().freeChlorine());
		double ph = Dosing.spendChlorine(after, chlorine).ph();
		return range != null && (ph > range.acceptableHigh() + PH_SEEN || ph < range.acceptableLow() - PH_SEEN);
	}

	/**
	 * Where nobody has said when people come they may come any time: a day on which they are kept out is taken as dear as one on which the
	 * pool is not protected; common practice, no source. Nothing where no dose opens the pool.
	 */
	private double closedCost(DosingResult dosing) {
		if (this.context.request().swimWithinHours() != null || this.context.contraindications().closedAnyway()) {
			return 0;
		}
		double hours = dosing.additions()
			.stream()
			.mapToDouble(
					addition -> addition.startMinutes() / 60.0 + this.context.pool().mixingHours(addition.product().kind().waitHours()))
			.max()
			.orElse(0);
		return hours / 24 * this.context.request().policy().dayBelowMinimum();
	}

	/** The best candidates with another product for the purpose of an addition, best first, each product once. */
	List<Step.Alternative> alternatives(DosingSequence.Addition addition) {
		List<Step.Alternative> alternatives = new ArrayList<>();
		for (Candidate candidate : this.candidates) {
			for (DosingSequence.Addition other : candidate.dosing().additions()) {
				if (replaces(candidate, other, addition) && isNew(other.product(), addition, alternatives)) {
					alternatives.add(new Step.Alternative(other.product(), other.measuredAmount(), candidate.cost(),
							candidate.dosing().water().levels(), reason(candidate)));
				}
			}
		}
		for (ProductSelector.RankedProduct allowed : this.context.selector(best().assignment())
			.allowed(addition.purpose(), addition.before())) {
			if (isNew(allowed.product(), addition, alternatives)) {
				alternatives.add(Step.Alternative.rejected(allowed.product(), Reason.of("alternative.same-kind")));
			}
		}
		return alternatives;
	}

	private static boolean isNew(Product product, DosingSequence.Addition addition, List<Step.Alternative> alternatives) {
		return !product.equals(addition.product())
				&& alternatives.stream().noneMatch(known -> known.product().equals(product));
	}

	/** In place of tablets stands what would be poured without any. */
	private static boolean replaces(Candidate candidate, DosingSequence.Addition other, DosingSequence.Addition addition) {
		return other.purpose() == addition.purpose() || (addition.purpose() == Step.Purpose.FEED
				&& other.purpose() == Step.Purpose.RAISE_FC && candidate.assignment().tablets() == 0);
	}

	/** Why a candidate is not the best one. */
	private Reason reason(Candidate candidate) {
		Candidate best = best();
		if (candidate.deferredChlorine() > best.deferredChlorine() || (candidate.leavesPhOut() && !best.leavesPhOut())) {
			return Reason.of("alternative.more-visits");
		}
		if (candidate.dosing().beyondLimits() > best.dosing().beyondLimits() + 0.1) {
			return Reason.of("alternative.unbalances");
		}
		if (candidate.rank() > best.rank()) {
			return Reason.of("alternative.not-first");
		}
		if (candidate.cost().shortageCost() > best.cost().shortageCost() + SAME_COST) {
			return Reason.of("alternative.holds-less");
		}
		TotalCost.LevelCost largest = null;
		for (TotalCost.LevelCost level : candidate.cost().levelCosts()) {
			if (level.cost() > SAME_COST && (largest == null || level.cost() > largest.cost())) {
				largest = level;
			}
		}
		boolean dearerNow = candidate.cost().productCost() > best.cost().productCost() + SAME_COST;
		if (!dearerNow && candidate.closedCost() > best.closedCost() + SAME_COST
				&& candidate.cost().objective() < best.cost().objective() + SAME_COST) {
			return Reason.of("alternative.waits-longer");
		}
		if (largest != null && !dearerNow) {
			return (largest.change() < 0)
					? Reason.of("alternative.takes", new Term.Difference(largest.level(), -largest.change()), Term.of(largest.level()))
					: Reason.of("alternative.leaves", new Term.Difference(largest.level(), largest.change()), Term.of(largest.level()));
		}
		return dearerNow ? Reason.of("alternative.dearer") : Reason.of("alternative.close");
	}

}
