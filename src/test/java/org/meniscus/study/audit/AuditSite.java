package org.meniscus.study.audit;

import java.util.List;
import java.util.Random;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.StorageTemperature;

/**
 * What else is known of a drawn pool: cell, pump, filter, cover, bathers and second systems, gauges and panels, how each level was read,
 * how old the liquid chlorine is, scarce water, a pH that rises week after week. Of its own draws, so that waters and trucks stay what they
 * are; about half of the pools have nothing on file.
 */
final class AuditSite {

	private static final double LITRES_PER_HOUR_EACH_GPM = 227.1;

	private static final double PSI = 6.895;

	private static final double[] STEPS = { 1, 5, 10, 20, 25 };

	private static final int[] DILUTIONS = { TestMethod.HALF, TestMethod.HALF, TestMethod.FIFTH };

	private final Random random;

	AuditSite(long seed) {
		this.random = new Random(seed);
	}

	PoolFacts equip(PoolFacts pool) {
		if (chance(0.5)) {
			return pool;
		}
		boolean spa = pool.body() == BodyOfWater.SPA;
		Equipment.Cell cell = (pool.sanitizer() == Sanitizer.SALT_CELL && chance(0.8)) ? cell(spa) : null;
		return pool.withEquipment(new Equipment(cell, maybe(between(2, 24, 1)),
				maybe(between(spa ? 20 : 10, 100, 5) * LITRES_PER_HOUR_EACH_GPM),
				chance(0.7) ? Equipment.Filter.values()[this.random.nextInt(3)] : null, maybe(between(6, 22, 1) * PSI),
				chance(0.25) ? Double.valueOf(between(0, 12, 1)) : null, chance(0.4) ? Double.valueOf(between(0, spa ? 8 : 40, 1)) : null,
				Equipment.SecondSystem.of(chance(0.2), chance(0.2), chance(0.2))));
	}

	/** Plates of garden pools name half a pound to two pounds a day. */
	private Equipment.Cell cell(boolean spa) {
		double step = STEPS[this.random.nextInt(STEPS.length)];
		return new Equipment.Cell(spa ? between(15, 120, 5) : between(200, 950, 10),
				chance(0.7) ? Double.valueOf(Math.min(100, step * this.random.nextInt(1 + (int) (100 / step)))) : null, step);
	}

	/** How they were read, what panels and gauges show, and more metal and ammonia than others have. */
	Readings visit(PoolFacts pool, Readings drawn) {
		Readings.Builder readings = drawn.toBuilder();
		Double clean = pool.equipment().cleanKilopascals();
		Equipment.Cell cell = pool.equipment().cell();
		Double salt = drawn.salt();
		double shown = between(-900, 900, 50);
		readings.site(new SiteConditions((clean != null && chance(0.7)) ? Double.valueOf(clean * between(0.6, 2.2, 0.05)) : null,
				(cell != null && chance(0.5)) ? Double.valueOf(between(0, 100, cell.stepPercent())) : null,
				(cell != null && salt != null && chance(0.6)) ? Double.valueOf(Math.max(0, salt + shown)) : null, chance(0.05),
				chance(0.05)));
		if (chance(0.3)) {
			readings.tests(tests());
		}
		if (chance(0.04)) {
			readings.trace(Level.COPPER, between(0, 2, 0.05)).trace(Level.IRON, between(0, 1.5, 0.05));
		}
		if (pool.sanitizer().usesChlorine() && chance(0.03)) {
			readings.trace(Level.AMMONIA, between(0, 4, 0.25));
		}
		return readings.build();
	}

	private TestMethods tests() {
		TestMethods tests = TestMethods.of(kit());
		for (Level level : TestMethods.CHOSEN) {
			if (chance(0.15)) {
				tests = tests.with(level, new TestMethod(kit(), 1));
			}
		}
		for (Level level : List.of(Level.FC, Level.CYA)) {
			if (chance(0.15)) {
				tests = tests.with(level, new TestMethod(TestKit.DROPS_25_ML, DILUTIONS[this.random.nextInt(DILUTIONS.length)]));
			}
		}
		return tests;
	}

	private TestKit kit() {
		return TestKit.values()[this.random.nextInt(TestKit.values().length)];
	}

	TreatmentPolicy company(TreatmentPolicy policy) {
		return chance(0.15) ? policy.withCosts(policy.costs().withWaterScarce(true)) : policy;
	}

	List<Product> stored(List<Product> products) {
		boolean old = chance(0.3);
		StorageTemperature storage = StorageTemperature.values()[this.random.nextInt(StorageTemperature.values().length)];
		int days = 1 + this.random.nextInt(90);
		return products.stream()
			.map(product -> (old && product.kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE) ? product.aged(days, storage)
					: product)
			.toList();
	}

	/** A pool whose pH its visits have seen rise: much exchange with air, or a drift that nothing explains. */
	PoolForecast learnt(PoolForecast forecast) {
		if (!chance(0.15)) {
			return forecast;
		}
		PhDrift drift = forecast.phDrift();
		return forecast.withPhDrift(new PhDrift(drift.exchangeRate() * between(0.5, 3, 0.1), 0.3, between(-0.2, 0.5, 0.05), 0.15,
				drift.tablets(), 4 + this.random.nextInt(20)));
	}

	private @Nullable Double maybe(double value) {
		return chance(0.7) ? Double.valueOf(value) : null;
	}

	private boolean chance(double share) {
		return this.random.nextDouble() < share;
	}

	private double between(double low, double high, double step) {
		return AuditDraw.step(low + (high - low) * this.random.nextDouble(), step);
	}

}
