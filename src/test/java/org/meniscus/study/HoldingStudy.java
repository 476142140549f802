package org.meniscus.study;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;

import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.demand.ChlorineDemandEstimator;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Band;

/**
 * Whether a dose that shall hold with a stated chance does. Simulated pools are visited each 5 to 9 days, or twice a week; at each visit the demand is
 * learnt from what was recorded so far, the dose that holds until the next visit with 90 % is worked out, put in and recorded, and at
 * the next visit the true FC is compared with the minimum.
 */
public final class HoldingStudy {

	private static final int WARM_UP_VISITS = 8;

	private static final int VISITS = 26;

	/** Ppm: no dose goes beyond. A colour test cannot be read far above, common practice, no source. */
	private static final double CEILING = 20;

	private static final Product LIQUID = Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125);

	private static final Product TABLETS = Product.usual("tablets", ProductKind.TRICHLOR_TAB);

	private static final Product ACID = Product.usual("acid", ProductKind.MURIATIC_3145);

	private static final Product BICARB = Product.usual("bicarbonate", ProductKind.BICARB);

	/** Share of doses that nobody records. */
	private static final double FORGOTTEN = 0.02;

	/**
	 * @param dosed visits with a dose that shall hold, and how many held
	 * @param undosed visits at which there was more than is needed, and how many held
	 * @param beyond visits at which even the ceiling does not hold with the chance asked, and how many held all the same
	 * @param all visits, and how many held
	 * @param stated mean of the chances stated at all visits for what was in the water after dosing
	 * @param ph pH found at visits, and how many lay in the 80 % band
	 */
	record Result(PoolScenario scenario, Count dosed, Count undosed, Count beyond, Count all, Mean stated, Count ph) {
	}

	static final class Count {

		private int of;

		private int held;

		void add(boolean holds) {
			of++;
			held += holds ? 1 : 0;
		}

		int of() {
			return of;
		}

		double share() {
			return (of == 0) ? Double.NaN : (double) held / of;
		}

		@Override
		public String toString() {
			return (of == 0) ? "none" : String.format(Locale.ROOT, "%.1f %% of %d", 100 * share(), of);
		}

	}

	static final class Mean {

		private int of;

		private double sum;

		void add(double value) {
			of++;
			sum += value;
		}

		double value() {
			return sum / of;
		}

	}

	private final PoolScenario scenario;

	private final double chance;

	private final Result result;

	private HoldingStudy(PoolScenario scenario, double chance) {
		this.scenario = scenario;
		this.chance = chance;
		this.result = new Result(scenario, new Count(), new Count(), new Count(), new Count(), new Mean(), new Count());
	}

	static Result of(PoolScenario scenario, int pools, double chance, long seed) {
		HoldingStudy study = new HoldingStudy(scenario, chance);
		for (int pool = 0; pool < pools; pool++) {
			study.season(new SimulatedPool(scenario, seed + 7919L * pool), new Random(seed - 104729L * pool));
		}
		return study.result;
	}

	private void season(SimulatedPool pool, Random random) {
		List<PoolHistory.Visit> visits = new ArrayList<>();
		Count next = null;
		double minimum = 0;
		double cya = 40;
		Band ph = null;
		for (int n = 0; n <= WARM_UP_VISITS + VISITS; n++) {
			Readings found = pool.test(n % 4 == 0);
			if (next != null) {
				next.add(pool.water().freeChlorine() >= minimum);
				result.all().add(pool.water().freeChlorine() >= minimum);
			}
			if (ph != null && found.ph() != null) {
				result.ph().add(found.ph() >= ph.low() && found.ph() <= ph.high());
			}
			cya = (found.cya() != null) ? found.cya() : cya;
			minimum = Math.max(1, cya / 20);
			int days = scenario.days(random);
			PoolHistory.Visit seen = new PoolHistory.Visit(pool.day(), found, Situation.ROUTINE, List.of(), null);
			List<PoolHistory.Visit> known = new ArrayList<>(visits);
			known.add(seen);
			PoolForecast forecast = new PoolHistory(pool.facts(), known).forecast();
			double tested = found.fc();
			double needed = forecast.demand().requiredStart(minimum, fc -> ChlorineDemandEstimator.startDeviation(tested, fc - tested),
					days,
					chance,
					CEILING);
			List<RecordedDose> doses = dose(pool, found, needed, random);
			visits.add(new PoolHistory.Visit(pool.day(), found, Situation.ROUTINE, doses, null));
			boolean counted = n >= WARM_UP_VISITS;
			next = !counted ? null : (needed > CEILING - 0.01) ? result.beyond() : (needed <= tested) ? result.undosed() : result.dosed();
			if (counted) {
				double start = Math.max(tested, needed);
				result.stated()
					.add(forecast.demand().exceedanceProbability(start, ChlorineDemandEstimator.startDeviation(tested, start - tested),
							days,
							minimum));
			}
			ph = counted ? phBand(pool.facts(), visits, forecast, Math.max(tested, needed), days) : null;
			for (int day = 0; day < days; day++) {
				pool.turnPage();
			}
		}
	}

	/** Liquid chlorine up to what is needed, acid from pH 7.8 to 7.5, bicarbonate below TA 70, tablets for a week where there is a feeder. */
	private List<RecordedDose> dose(SimulatedPool pool, Readings found, double needed, Random random) {
		List<RecordedDose> doses = new ArrayList<>();
		double litres = pool.facts().volume().litres();
		if (needed > found.fc()) {
			put(pool, LIQUID, ProductEffects.amount(LIQUID, needed - found.fc(), litres), doses, random);
		}
		if (scenario.sanitizer() == Sanitizer.TABLET_FEEDER) {
			put(pool, TABLETS, ProductEffects.amount(TABLETS, 5, litres), doses, random);
		}
		if (found.ph() >= 7.8) {
			double acid = Dosing.doseForPh(pool.water().withPh(found.ph()), Reagent.HYDROCHLORIC_ACID, 7.5).orElseThrow();
			put(pool, ACID, ProductEffects.amount(ACID, acid, litres), doses, random);
		}
		if (found.ta() != null && found.ta() < 70) {
			put(pool, BICARB, ProductEffects.amount(BICARB, 30 / Reagent.SODIUM_BICARBONATE.alkalinity(), litres), doses, random);
		}
		if (scenario.sanitizer() == Sanitizer.SALT_CELL && (found.fc() < 2 || found.fc() > 6)) {
			pool.turnCell((found.fc() < 2) ? 1.2 : 0.85);
		}
		return doses;
	}

	private void put(SimulatedPool pool, Product product, double amount, List<RecordedDose> doses, Random random) {
		pool.dose(product, amount);
		if (random.nextDouble() >= FORGOTTEN) {
			doses.add(new RecordedDose(product.kind(), product.strength(), product.basis(), amount));
		}
	}

	/** Where the pH is said to be at the next visit; null where the readings of today contradict each other. */
	private static Band phBand(PoolFacts facts, List<PoolHistory.Visit> visits, PoolForecast forecast, double start, int days) {
		return new PoolHistory(facts, visits).waterAfterLastVisit()
			.flatMap(water -> forecast.phDrift().after(water, start - forecast.demand().expected(start, days), days))
			.orElse(null);
	}

	/** @param arguments pools, and a seed; 200 and 1 without */
	public static void main(String[] arguments) {
		int pools = (arguments.length > 0) ? Integer.parseInt(arguments[0]) : 200;
		long seed = (arguments.length > 1) ? Long.parseLong(arguments[1]) : 1;
		System.out.printf("%d pools of each kind, %d visits each after %d; seed %d%n", pools, VISITS, WARM_UP_VISITS, seed);
		System.out.println(
				"| pools | asked | held, dosed | held, no dose needed | held, beyond the ceiling | held, all visits | stated for all | pH in its 80 % band |");
		System.out.println("|---|---|---|---|---|---|---|---|");
		for (PoolScenario scenario : List.of(PoolScenario.USUAL, PoolScenario.TWICE, PoolScenario.HOTTER, PoolScenario.HOTTER_TWICE,
				PoolScenario.SMALLER,
				PoolScenario.NOISIER, PoolScenario.FEEDER, PoolScenario.CELL)) {
			for (double chance : new double[]{ 0.8, 0.9, 0.95 }) {
				if (chance == 0.9 || scenario == PoolScenario.USUAL) {
					Result result = of(scenario, pools, chance, seed);
					System.out.printf("| %s | %.0f %% | %s | %s | %s | %s | %.1f %% | %s |%n", scenario.name(), 100 * chance,
							result.dosed(),
							result.undosed(), result.beyond(), result.all(), 100 * result.stated().value(), result.ph());
				}
			}
		}
	}

}
