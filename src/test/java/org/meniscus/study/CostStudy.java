package org.meniscus.study;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import java.util.function.ToIntFunction;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.ResidualTarget;
import org.meniscus.water.plan.WaterReplacement;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.UnitSystem;

/**
 * What two years at a simulated pool cost, and how often free chlorine lasted until the next visit, when the engine chooses what goes
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

	private static final List<PoolScenario> SCENARIOS = List.of(PoolScenario.in("temperate", ClimateNormals.TEMPERATE, true),
			PoolScenario.in("temperate", ClimateNormals.TEMPERATE, false), PoolScenario.in("hot and dry", ClimateNormals.HOT_DRY, true),
			PoolScenario.in("hot and dry", ClimateNormals.HOT_DRY, false),
			PoolScenario.in("warm and humid", ClimateNormals.SUBTROPICAL, true),
			PoolScenario.in("warm and humid", ClimateNormals.SUBTROPICAL, false));

	/** From 1 March to 1 March, so that what a winter thins is counted. */
	private static final int DAYS = 730;

	/** As many visits back are remembered. */
	private static final int REMEMBERED = 40;

	/** Warm water, degrees Celsius. */
	private static final double WARM = 20;

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

		/** Days of warm water, and those on which FC was below its minimum. */
		int warm;

		int warmBelow;

		double total() {
			return chlorine + balance + water + left;
		}

	}

	private final Routine routine;

	private final double asked;

	private final SimulatedPool pool;

	private final PoolFacts facts;

	private final ClimateNormals climate;

	private final double litres;

	private final long seed;

	private final Bill bill = new Bill();

	private final List<PoolHistory.Visit> visits = new ArrayList<>();

	private CostStudy(Routine routine, double asked, PoolScenario scenario, long seed) {
		this.routine = routine;
		this.asked = asked;
		this.pool = new SimulatedPool((routine == Routine.ENGINE) ? scenario.with(Sanitizer.FLOATER) : scenario, seed);
		this.facts = pool.facts();
		this.climate = Objects.requireNonNull(scenario.climate());
		this.litres = facts.volume().litres();
		this.seed = seed;
	}

	static Bill season(Routine routine, double asked, PoolScenario scenario, long seed) {
		CostStudy study = new CostStudy(routine, asked, scenario, seed);
		Random calendar = new Random(seed + 31);
		int n = 0;
		while (study.pool.day() < DAYS) {
			if (study.pool.closed()) {
				study.pool.turnPage();
				continue;
			}
			int days = scenario.days(calendar);
			double minimum = study.visit(n % 4 == 0, days, true);
			for (int day = 0; day < days; day++) {
				study.pool.turnPage();
				boolean warm = study.pool.celsius() >= WARM;
				study.bill.warm += warm ? 1 : 0;
				study.bill.warmBelow += (warm && study.pool.water().freeChlorine() < minimum) ? 1 : 0;
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
		List<PoolHistory.Visit> known = new ArrayList<>(visits.subList(Math.max(0, visits.size() - REMEMBERED), visits.size()));
		known.add(new PoolHistory.Visit(pool.day(), found, Situation.ROUTINE, List.of(), null));
		PoolForecast learnt = new PoolHistory(facts, known).forecast();
		PoolForecast forecast = learnt.withToday(new ClimateDay(climate, pool.dayOfYear()));
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
			// a habit pours its own chlorine: what the plan would have brought for lack of any on the truck is no part of it
			plan.followUps()
				.stream()
				.filter(later -> routine == Routine.ENGINE || later.product() == null || !later.product().kind().ingredient().chlorine())
				.forEach(later -> put(later.product(), later.expectedAmount(), doses));
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
		return PriceList.cost(product, ProductEffects.amount(product, 1, litres));
	}

	private void put(@Nullable Product product, @Nullable MeasuredAmount measured, List<RecordedDose> doses) {
		if (product != null && measured != null) {
			put(product, measured.amount(), doses);
		}
	}

	private void put(Product product, double amount, List<RecordedDose> doses) {
		pool.dose(product, amount);
		doses.add(new RecordedDose(product.kind(), product.strength(), product.basis(), amount));
		double cost = PriceList.cost(product, amount);
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
			bill.left += PriceList.cost(stabilizer, ProductEffects.amount(stabilizer, missing, litres));
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
		for (PoolHistory.Visit visit : visits.subList(Math.max(0, visits.size() - REMEMBERED), visits.size())) {
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

	/**
	 * All pools of one routine.
	 *
	 * @param cost mean of all, dollars a year
	 * @param held share of visits at which FC had lasted, percent
	 * @param below share of warm days on which FC was below its minimum, percent
	 */
	private record Row(String words, List<Bill> bills, double cost, double held, double below) {

		static Row of(String words, Routine routine, double asked, PoolScenario scenario, int count, long seed) {
			List<Bill> bills = IntStream.range(0, count).parallel().mapToObj(pool -> season(routine, asked, scenario, seed + 7919L * pool))
				.toList();
			return new Row(words, bills, mean(bills, Bill::total), share(bills, bill -> bill.held, bill -> bill.visits),
					share(bills, bill -> bill.warmBelow, bill -> bill.warm));
		}

		private static double share(List<Bill> bills, ToIntFunction<Bill> part, ToIntFunction<Bill> whole) {
			return 100.0 * bills.stream().mapToInt(part).sum() / Math.max(1, bills.stream().mapToInt(whole).sum());
		}

		void print() {
			System.out.printf("| %s | %.0f | %.0f | %.0f | %.0f | %.0f | %.1f %% | %.1f %% |%n", words, mean(bills, bill -> bill.chlorine),
					mean(bills, bill -> bill.balance), mean(bills, bill -> bill.water), mean(bills, bill -> bill.left), cost, held, below);
		}

		private static double mean(List<Bill> bills, ToDoubleFunction<Bill> of) {
			return bills.stream().mapToDouble(of).average().orElse(0) / 100 / (DAYS / 365.0);
		}

	}

	/** @param arguments pools, a seed, and a word that the names of the pools to take hold; 60, 1 and all without */
	public static void main(String[] arguments) {
		int count = (arguments.length > 0) ? Integer.parseInt(arguments[0]) : 60;
		long seed = (arguments.length > 1) ? Long.parseLong(arguments[1]) : 1;
		String part = (arguments.length > 2) ? arguments[2] : "";
		System.out.printf("%d pools of each kind, %d days each; seed %d; means in dollars a pool and year%n", count, DAYS, seed);
		SCENARIOS.stream().filter(scenario -> scenario.name().contains(part)).forEach(scenario -> compare(scenario, count, seed));
	}

	private static void compare(PoolScenario scenario, int count, long seed) {
		System.out.printf("%n%s%n| what goes in | chlorine | acid, alkali, stabilizer | water replaced | left at the end | all | protected "
				+ "| warm days below |%n|---|---|---|---|---|---|---|---|%n", scenario.name());
		List<Row> habits = new ArrayList<>();
		for (Routine routine : Routine.values()) {
			if (routine != Routine.ENGINE) {
				habits.add(Row.of(routine.words, routine, ASKED, scenario, count, seed));
				habits.get(habits.size() - 1).print();
			}
		}
		List<Row> engine = new ArrayList<>();
		for (double asked : ENGINE_ASKED) {
			engine.add(Row.of(String.format("the engine, asked for %.0f %%", 100 * asked), Routine.ENGINE, asked, scenario, count, seed));
			engine.get(engine.size() - 1).print();
		}
		System.out.printf(
				"%n| at no more money than | costs | protected | the engine | warm days below | the engine |%n|---|---|---|---|---|---|%n");
		for (Row habit : habits) {
			System.out.printf("| %s | %.0f | %.1f %% | %s | %.1f %% | %s |%n", habit.words(), habit.cost(), habit.held(),
					noDearer(engine, habit, row -> -row.held(), Row::held), habit.below(), noDearer(engine, habit, Row::below, Row::below));
		}
		System.out.printf("%n| at the same protection as | protected | costs | the engine | less |%n|---|---|---|---|---|%n");
		for (Row habit : habits) {
			boolean reached = engine.stream().anyMatch(row -> row.held() >= habit.held());
			double cost = along(engine, Row::held, habit.held(), Row::cost);
			System.out.println(String.format("| %s | %.1f %% | %.0f | ", habit.words(), habit.held(), habit.cost())
					+ (reached ? String.format("%.0f | %.0f %% |", cost, 100 * (1 - cost / habit.cost())) : "not reached | |"));
		}
	}

	/** A figure of the engine's best row among those that cost no more than a habit. */
	private static String noDearer(List<Row> engine, Row habit, ToDoubleFunction<Row> worse, ToDoubleFunction<Row> figure) {
		return engine.stream()
			.filter(row -> row.cost() <= habit.cost())
			.min(Comparator.comparingDouble(worse))
			.map(row -> String.format("%.1f %%", figure.applyAsDouble(row)))
			.orElse("dearer");
	}

	/** The engine's figure where another of its figures is this, along the straight lines between what it was asked for; at its ends the last. */
	private static double along(List<Row> engine, ToDoubleFunction<Row> by, double at, ToDoubleFunction<Row> figure) {
		List<Row> sorted = engine.stream().sorted(Comparator.comparingDouble(by)).toList();
		Row before = sorted.get(0);
		for (Row row : sorted) {
			if (by.applyAsDouble(row) >= at) {
				double width = by.applyAsDouble(row) - by.applyAsDouble(before);
				double share = (width > 0) ? Math.max(0, (at - by.applyAsDouble(before)) / width) : 1;
				return figure.applyAsDouble(before) + share * (figure.applyAsDouble(row) - figure.applyAsDouble(before));
			}
			before = row;
		}
		return figure.applyAsDouble(before);
	}

}
