package org.meniscus.study;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.ResidualTarget;
import org.meniscus.water.plan.SeasonEndCost;
import org.meniscus.water.plan.WaterReplacement;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.UnitSystem;

/**
 * What half a year at a simulated pool costs, and how often free chlorine lasted until the next visit, when the engine chooses what goes
 * in, when the chlorine that is cheapest that day does, and when it is always the same one. All aim at the same FC and balance pH, TA, CH
 * and CYA by the engine's plan; water is replaced when the engine advises it. Prices of each product are drawn anew each four weeks from
 * its usual range ({@link ProductKind}); water and work by {@link TreatmentCosts#DEFAULT}.
 */
public final class CostStudy {

	enum Routine {

		ENGINE("the engine"), CHEAPEST("always the cheapest today, tablets among them"),
		CHEAPEST_POURED("always the cheapest today of what is poured"),
		LIQUID("always liquid chlorine"), CAL_HYPO("always calcium hypochlorite"),
		DICHLOR("always dichlor"), TABLETS("tablets in a floater, liquid where they fall short");

		private final String words;

		Routine(String words) {
			this.words = words;
		}

	}

	/** Chance asked that FC lasts until the next visit; of the habits always the usual one. */
	private static final double ASKED = 0.9;

	private static final double[] ENGINE_ASKED = { 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99 };

	/** Pools that are compared. @param cyaHigh where the ideal range of CYA ends, ppm: by default 50 */
	private record Pools(PoolScenario scenario, double cyaHigh) {

		PoolFacts facts(PoolFacts pool) {
			return pool.withTargets(pool.targets().with(Map.of(Level.CYA, new Range(0, 30, cyaHigh, 100, "of the study"))));
		}

		String words() {
			return scenario.name() + ((cyaHigh > 50) ? String.format(", CYA wanted up to %.0f ppm", cyaHigh) : "");
		}

	}

	private static final int DAYS = 182;

	private static final int DAYS_OF_A_PRICE = 28;

	/** FC that tablets are to hold, and from which none are added, ppm. */
	private static final double FLOATER_FC = 3;

	private static final double FULL_FC = 6;

	private static final List<ProductKind> POURED = List.of(ProductKind.LIQUID_CHLORINE_125, ProductKind.CAL_HYPO_65,
			ProductKind.DICHLOR_56);

	private static final List<ProductKind> OTHERS = List.of(ProductKind.MURIATIC_3145, ProductKind.SODA_ASH, ProductKind.BICARB,
			ProductKind.CAL_CHLORIDE_77, ProductKind.CYA);

	/** Highest FC a dose aims at, ppm: model code maximum, from memory. */
	private static final TreatmentPolicy POLICY = TreatmentPolicy.withCeiling(10);

	/** One pool-season, minor units. */
	static final class Bill {

		double chlorine;

		double balance;

		double water;

		double left;

		int visits;

		int held;

		double total() {
			return chlorine + balance + water + left;
		}

	}

	private final Routine routine;

	private final double asked;

	private final SimulatedPool pool;

	private final PoolFacts facts;

	private final double litres;

	private final long seed;

	private final Bill bill = new Bill();

	private final List<PoolHistory.Visit> visits = new ArrayList<>();

	private CostStudy(Routine routine, double asked, Pools pools, long seed) {
		PoolScenario scenario = pools.scenario();
		this.routine = routine;
		this.asked = asked;
		this.pool = new SimulatedPool((routine == Routine.ENGINE) ? scenario.with(Sanitizer.FLOATER) : scenario, seed);
		this.facts = pools.facts(pool.facts());
		this.litres = facts.volume().litres();
		this.seed = seed;
	}

	static Bill season(Routine routine, double asked, Pools pools, long seed) {
		CostStudy study = new CostStudy(routine, asked, pools, seed);
		Random calendar = new Random(seed + 31);
		int n = 0;
		while (study.pool.day() < DAYS) {
			int days = pools.scenario().days(calendar);
			double minimum = study.visit(n % 4 == 0, days, true);
			for (int day = 0; day < days; day++) {
				study.pool.turnPage();
			}
			study.bill.visits++;
			study.bill.held += (study.pool.water().freeChlorine() >= minimum) ? 1 : 0;
			n++;
		}
		study.leave();
		return study.bill;
	}

	/** @return lowest FC allowed until the next visit, ppm */
	private double visit(boolean slow, int days, boolean mayReplace) {
		Readings found = pool.test(slow);
		Map<ProductKind, Product> products = products();
		List<Product> truck = new ArrayList<>();
		for (Map.Entry<ProductKind, Product> one : products.entrySet()) {
			if (routine == Routine.ENGINE || !one.getKey().ingredient().chlorine()) {
				truck.add(one.getValue());
			}
		}
		List<PoolHistory.Visit> known = new ArrayList<>(visits);
		known.add(new PoolHistory.Visit(pool.day(), found, Situation.ROUTINE, List.of(), null));
		PoolForecast learnt = new PoolHistory(facts, known).forecast();
		PoolForecast forecast = learnt.withSeason(Math.max(0, DAYS - pool.day()), learnt.seasonUse(), learnt.driftPerDay());
		PlanRequest request = new PlanRequest(facts, found, Situation.ROUTINE, truck, POLICY.withHoldProbability(asked), days, null,
				UnitSystem.US)
			.withLastKnown(LastKnownLevels.of(earlier(), facts))
			.withForecast(forecast);
		PlanResult outcome = Planner.plan(request);
		Double minimum = outcome.assessment().fcMinimum();
		double least = (minimum != null) ? minimum : 1;
		List<RecordedDose> doses = new ArrayList<>();
		if (outcome instanceof Plan plan) {
			if (mayReplace && plan.replacement() != null) {
				replace(plan.replacement(), found);
				return visit(true, days, false);
			}
			plan.steps().forEach(step -> put(step.product(), step.amount(), doses));
			plan.followUps().forEach(later -> put(later.product(), later.expectedAmount(), doses));
		}
		if (routine != Routine.ENGINE) {
			chlorine(request, outcome.assessment(), least, found.fc(), products, days, doses);
		}
		visits.add(new PoolHistory.Visit(pool.day(), found, Situation.ROUTINE, doses, null));
		return least;
	}

	private void chlorine(PlanRequest request, Assessment assessment, double least, double fc, Map<ProductKind, Product> products, int days,
			List<RecordedDose> doses) {
		if (floats(products) && fc < FULL_FC) {
			double use = Math.max(0.3, request.forecast().demand().use(FLOATER_FC).middle());
			Product tablets = products.get(ProductKind.TRICHLOR_TAB);
			put(tablets, ProductEffects.amount(tablets, use * days, litres), doses);
		}
		LevelState state = assessment.state(Level.FC);
		if (state == null || Assessor.minimumReachesCeiling(least, POLICY.fcCeiling())) {
			return;
		}
		ResidualTarget residualTarget = new ResidualTarget(request, request.forecast(), least, fc, state.range().idealLow());
		if (!residualTarget.isMet()) {
			Product product = poured(products);
			put(product, ProductEffects.amount(product, residualTarget.targetFc() - fc, litres), doses);
		}
	}

	private Product poured(Map<ProductKind, Product> products) {
		return switch (routine) {
			case CAL_HYPO -> products.get(ProductKind.CAL_HYPO_65);
			case DICHLOR -> products.get(ProductKind.DICHLOR_56);
			case CHEAPEST, CHEAPEST_POURED -> cheapestPoured(products);
			default -> products.get(ProductKind.LIQUID_CHLORINE_125);
		};
	}

	private Product cheapestPoured(Map<ProductKind, Product> products) {
		return Collections.min(POURED.stream().map(products::get).toList(), (one, other) -> Double.compare(perPpm(one), perPpm(other)));
	}

	/** Whether tablets go into the floater today. */
	private boolean floats(Map<ProductKind, Product> products) {
		return routine == Routine.TABLETS
				|| (routine == Routine.CHEAPEST && perPpm(products.get(ProductKind.TRICHLOR_TAB)) < perPpm(cheapestPoured(products)));
	}

	private double perPpm(Product product) {
		return SeasonEndCost.productCost(product, ProductEffects.amount(product, 1, litres));
	}

	private void put(@Nullable Product product, @Nullable MeasuredAmount measured, List<RecordedDose> doses) {
		if (product != null && measured != null) {
			put(product, measured.amount(), doses);
		}
	}

	private void put(Product product, double amount, List<RecordedDose> doses) {
		pool.dose(product, amount);
		doses.add(new RecordedDose(product.kind(), product.strength(), product.basis(), amount));
		double cost = SeasonEndCost.productCost(product, amount);
		if (product.kind().ingredient().chlorine()) {
			bill.chlorine += cost;
		}
		else {
			bill.balance += cost;
		}
	}

	private void replace(WaterReplacement replacement, Readings found) {
		pool.replace(replacement.share());
		bill.water += replacement.share() * litres / 1000 * POLICY.costs().waterPerM3()
				+ replacement.drainCount() * POLICY.costs().drainLabor();
		visits.add(new PoolHistory.Visit(pool.day(), found, Situation.ROUTINE, List.of(), replacement.share()));
	}

	/** What is above or below the ideal when the season ends has to be replaced or bought before the next. */
	private void leave() {
		double share = Math.max(share(Level.CYA, pool.water().cyanuricAcid(), 0),
				share(Level.CH, pool.water().calciumHardness(), facts.fill().ch()));
		bill.left += share * (litres / 1000 * POLICY.costs().waterPerM3() + 3 * POLICY.costs().drainLabor());
		double missing = facts.targets().range(Level.CYA).idealLow() - pool.water().cyanuricAcid();
		if (missing > 0) {
			Product stabilizer = Product.usual("cya", ProductKind.CYA);
			bill.left += SeasonEndCost.productCost(stabilizer, ProductEffects.amount(stabilizer, missing, litres));
		}
	}

	private double share(Level level, double now, double fill) {
		double ideal = facts.targets().range(level).idealHigh();
		return (now <= ideal || fill >= ideal) ? 0 : (now - ideal) / (now - fill);
	}

	/** At the prices of the day. */
	private Map<ProductKind, Product> products() {
		Random prices = new Random(seed * 53 + pool.day() / DAYS_OF_A_PRICE);
		Map<ProductKind, Product> products = new EnumMap<>(ProductKind.class);
		for (ProductKind kind : POURED) {
			stock(products, kind, prices);
		}
		stock(products, ProductKind.TRICHLOR_TAB, prices);
		for (ProductKind kind : OTHERS) {
			stock(products, kind, prices);
		}
		return products;
	}

	private static void stock(Map<ProductKind, Product> products, ProductKind kind, Random prices) {
		long cents = Math.round(kind.priceLowCents() + (kind.priceHighCents() - kind.priceLowCents()) * prices.nextDouble());
		products.put(kind, Product.usual(kind.name(), kind).withPrice(kind.pricedAmount(), cents));
	}

	private List<LastKnownLevels.EarlierVisit> earlier() {
		List<LastKnownLevels.EarlierVisit> earlier = new ArrayList<>();
		for (PoolHistory.Visit visit : visits) {
			Map<Level, Double> moved = new HashMap<>();
			for (RecordedDose dose : visit.doses()) {
				ProductEffects.lasting(Product.usual("", dose.kind()), dose.amount(), litres)
					.forEach((level, by) -> moved.merge(level, by, Double::sum));
			}
			earlier.add(new LastKnownLevels.EarlierVisit((int) (pool.day() - visit.day()), visit.readings(), moved, visit.waterReplaced()));
		}
		Collections.reverse(earlier);
		return earlier;
	}

	/** All seasons of one routine. @param cost median of all, dollars @param held share of visits at which FC had lasted, percent */
	private record Row(String words, List<Bill> bills, double cost, double held) {

		static Row of(String words, Routine routine, double asked, Pools pools, int count, long seed) {
			List<Bill> bills = IntStream.range(0, count).parallel().mapToObj(pool -> season(routine, asked, pools, seed + 7919L * pool))
				.toList();
			double held = 100.0 * bills.stream().mapToInt(bill -> bill.held).sum() / bills.stream().mapToInt(bill -> bill.visits).sum();
			return new Row(words, bills, median(bills, Bill::total), held);
		}

		void print() {
			System.out.printf("| %s | %.0f | %.0f | %.0f | %.0f | %.0f | %.1f %% |%n", words, median(bills, bill -> bill.chlorine),
					median(bills, bill -> bill.balance), median(bills, bill -> bill.water), median(bills, bill -> bill.left), cost, held);
		}

	}

	/** @param arguments pools, and a seed; 100 and 1 without */
	public static void main(String[] arguments) {
		int count = (arguments.length > 0) ? Integer.parseInt(arguments[0]) : 100;
		long seed = (arguments.length > 1) ? Long.parseLong(arguments[1]) : 1;
		System.out.printf("%d pools of each kind, %d days each; seed %d; medians in dollars a pool-season%n", count, DAYS, seed);
		for (Pools pools : List.of(new Pools(PoolScenario.TWICE, 50), new Pools(PoolScenario.USUAL, 50),
				new Pools(PoolScenario.USUAL, 70))) {
			System.out.printf(
					"%n%s%n| what goes in | chlorine | acid, alkali, stabilizer | water replaced | left at the end | all | protected |%n|---|---|---|---|---|---|---|%n",
					pools.words());
			List<Row> habits = new ArrayList<>();
			for (Routine routine : Routine.values()) {
				if (routine != Routine.ENGINE) {
					habits.add(Row.of(routine.words, routine, ASKED, pools, count, seed));
					habits.get(habits.size() - 1).print();
				}
			}
			List<Row> engine = new ArrayList<>();
			for (double asked : ENGINE_ASKED) {
				engine.add(Row.of(String.format("the engine, asked for %.0f %%", 100 * asked), Routine.ENGINE, asked, pools, count, seed));
				engine.get(engine.size() - 1).print();
			}
			System.out.printf("%n| at the same protection as | protected | costs | the engine | less |%n|---|---|---|---|---|%n");
			habits.forEach(habit -> compare(habit, engine));
		}
	}

	/** The engine's cost at a habit's protection, along the straight line between what it was asked for; below the least of these the least. */
	private static void compare(Row habit, List<Row> engine) {
		if (habit.held() < engine.get(0).held()) {
			compare(habit, engine.get(0).cost());
			return;
		}
		for (int n = 1; n < engine.size(); n++) {
			Row less = engine.get(n - 1);
			Row more = engine.get(n);
			if (habit.held() >= less.held() && habit.held() <= more.held()) {
				double share = (habit.held() - less.held()) / Math.max(1e-9, more.held() - less.held());
				compare(habit, less.cost() + share * (more.cost() - less.cost()));
				return;
			}
		}
		System.out.printf("| %s | %.1f %% | %.0f | not reached | |%n", habit.words(), habit.held(), habit.cost());
	}

	private static void compare(Row habit, double cost) {
		System.out.printf("| %s | %.1f %% | %.0f | %.0f | %.0f %% |%n", habit.words(), habit.held(), habit.cost(), cost,
				100 * (1 - cost / habit.cost()));
	}

	private static double median(List<Bill> bills, ToDoubleFunction<Bill> of) {
		return median(bills.stream().mapToDouble(of).toArray());
	}

	private static double median(double[] cents) {
		double[] sorted = cents.clone();
		Arrays.sort(sorted);
		return (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 200;
	}

}
