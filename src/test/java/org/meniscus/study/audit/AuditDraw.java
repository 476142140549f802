package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;

import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.Targets;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/**
 * Requests of every kind of pool and situation with readings on the steps of the tests. Half of the waters are as a route meets them,
 * half anywhere between what a kit can show.
 */
final class AuditDraw {

	private static final Sanitizer[] CHLORINE = { Sanitizer.CHLORINE_BY_HAND, Sanitizer.CHLORINE_BY_HAND, Sanitizer.FLOATER,
			Sanitizer.TABLET_FEEDER, Sanitizer.SALT_CELL, Sanitizer.SALT_CELL };

	private final Random random;

	/** Of its own, so that the other draws stay what they are. */
	private final Random traces;

	private final AuditSite site;

	AuditDraw(long seed) {
		this.random = new Random(seed);
		this.traces = new Random(seed + 1);
		this.site = new AuditSite(seed + 2);
	}

	PlanRequest next() {
		PoolFacts pool = this.site.equip(pool());
		boolean usual = this.random.nextBoolean();
		Readings readings = this.site.visit(pool, readings(pool, usual));
		Situation situation = situation(pool, usual);
		int days = chance(0.25) ? 0 : chance(0.6) ? 7 : 1 + this.random.nextInt(14);
		Double swim = chance(0.2) ? Double.valueOf(0.5 * (1 + this.random.nextInt(24))) : null;
		TreatmentPolicy policy = chance(0.75) ? TreatmentPolicy.defaults() : TreatmentPolicy.withCeiling(4 + this.random.nextInt(7));
		PlanRequest request = new PlanRequest(pool, readings, situation, this.site.stored(products()), this.site.company(policy), days,
				swim,
				this.random.nextBoolean() ? UnitSystem.US : UnitSystem.METRIC);
		request = request.withForecast(this.site.learnt(request.forecast()));
		if (pool.sanitizer().usesTablets() && chance(0.5)) {
			double left = step(10 * this.random.nextDouble(), 0.5);
			request = request.withForecast(
					request.forecast().withTablets(new DissolvingTablets(left, left / DissolvingTablets.DISSOLVING_DAYS)));
		}
		if (chance(0.2)) {
			PoolForecast forecast = request.forecast();
			request = request.withForecast(forecast.withSeason(this.random.nextInt(200), forecast.seasonUse(), Map.of()));
		}
		return chance(0.2) ? request.withLastKnown(new LastKnownLevels(Map.of(Level.CYA, dated(10, 90, 5), Level.CH, dated(100, 500, 10))))
				: request;
	}

	private LastKnownLevels.DatedValue dated(double low, double high, double step) {
		return new LastKnownLevels.DatedValue(between(low, high, step), 3 + this.random.nextInt(28));
	}

	private PoolFacts pool() {
		BodyOfWater body = chance(0.15) ? BodyOfWater.SPA : BodyOfWater.POOL;
		Surface surface = Surface.values()[this.random.nextInt(Surface.values().length)];
		Sanitizer sanitizer = chance(0.12) ? Sanitizer.BROMINE : chance(0.02) ? Sanitizer.BIGUANIDE
				: CHLORINE[this.random.nextInt(CHLORINE.length)];
		boolean indoor = chance(0.12);
		double gallons = (body == BodyOfWater.SPA) ? between(200, 900, 50)
				: (surface == Surface.SOFT_SIDED) ? between(800, 6000, 100) : between(4000, 40000, 500);
		VolumeCertainty certainty = chance(0.1) ? VolumeCertainty.ESTIMATED : VolumeCertainty.CALCULATED;
		FillWater fill = chance(0.4) ? FillWater.unknown()
				: new FillWater(between(7.0, 8.4, 0.1), between(20, 220, 10), between(10, 400, 10), between(50, 600, 50));
		return new PoolFacts(Volume.ofUsGallons(gallons), certainty, body, surface, indoor, sanitizer, fill, chance(0.5),
				Equipment.UNKNOWN, Targets.defaults(body, surface, indoor, sanitizer));
	}

	private Readings readings(PoolFacts pool, boolean usual) {
		boolean spa = pool.body() == BodyOfWater.SPA;
		boolean cell = pool.sanitizer() == Sanitizer.SALT_CELL;
		Readings.Builder readings = Readings.builder();
		readings.ph(usual ? between(7.0, 8.2, 0.1) : between(6.5, 8.6, 0.1));
		readings.celsius(spa ? between(30, 41, 1) : usual ? between(15, 32, 1) : between(4, 36, 1));
		readings.drainVisible(chance(0.1) ? null : Boolean.valueOf(!chance(0.1)));
		if (pool.sanitizer() == Sanitizer.BROMINE) {
			readings.bromine(chance(0.3) ? between(0, 2, 0.2) : between(1, 12, 0.2));
		}
		else {
			readings.fc(usual ? between(0, 6, 0.1) : chance(0.3) ? between(0, 20, 0.5) : between(0, 4, 0.1));
			if (chance(0.5)) {
				readings.cc(chance(0.6) ? between(0, 0.4, 0.2) : between(0, 3, 0.2));
			}
			if (chance(0.85)) {
				boolean none = spa || pool.indoor();
				double cya = (none && chance(0.7)) ? between(0, 30, 5) : usual ? between(0, cell ? 100 : 80, 5) : between(0, 200, 5);
				readings.cya(cya, (cya == 30 && chance(0.2)) ? ReadingQualifier.BELOW
						: (cya == 100 && chance(0.3)) ? ReadingQualifier.ABOVE : ReadingQualifier.EXACT);
			}
		}
		if (chance(0.92)) {
			readings.ta(usual ? between(50, 160, 10) : between(20, 260, 10));
		}
		if (chance(0.88)) {
			readings.ch(usual ? between(100, 450, 10) : between(20, 900, 10));
		}
		if (cell && chance(0.9)) {
			readings.salt(usual ? between(2400, 4000, 50) : between(500, 6500, 50));
		}
		if (chance(0.1)) {
			readings.tds(Math.max(between(400, 5000, 50), cell ? 7000 : 0));
		}
		if (chance(0.08)) {
			readings.borate(between(0, 60, 5));
		}
		if (chance(0.1)) {
			readings.phosphate(between(0, 2000, 50));
		}
		traces(readings);
		return readings.build();
	}

	private void traces(Readings.Builder readings) {
		double which = this.traces.nextDouble();
		double value = this.traces.nextDouble();
		if (which < 0.05) {
			readings.trace(Level.COPPER, step(1.5 * value, 0.05));
		}
		else if (which < 0.1) {
			readings.trace(Level.IRON, step(value, 0.05));
		}
		else if (which < 0.13) {
			readings.trace(Level.AMMONIA, step(3 * value, 0.25));
		}
		else if (which < 0.16) {
			readings.trace(Level.MANGANESE, step(0.3 * value, 0.01));
		}
	}

	private Situation situation(PoolFacts pool, boolean usual) {
		if (chance(usual ? 0.6 : 0.35)) {
			return Situation.ROUTINE;
		}
		while (true) {
			Situation situation = Situation.values()[this.random.nextInt(Situation.values().length)];
			if (situation.fits(pool)) {
				return situation;
			}
		}
	}

	/** A full truck, a part of it, or nothing; some products with a label maximum or left at home. */
	private List<Product> products() {
		double along = chance(0.4) ? 1 : chance(0.07) ? 0 : 0.25 + 0.6 * this.random.nextDouble();
		List<Product> products = new ArrayList<>();
		for (ProductKind kind : ProductKind.values()) {
			if (!chance(along)) {
				continue;
			}
			Product product = Product.usual(kind.name(), kind);
			if (along < 1 && chance(0.15)) {
				product = product.withOnTruck(false);
			}
			if (kind.ingredient().chlorine() && chance(0.1)) {
				// a label for 5 to 15 ppm at once
				product = product.withLabelMaxPerM3(between(5, 15, 1) / AuditEffects.chlorinePpm(product, 1, 1000));
			}
			products.add(product);
		}
		return products;
	}

	private boolean chance(double share) {
		return this.random.nextDouble() < share;
	}

	private double between(double low, double high, double step) {
		return step(low + (high - low) * this.random.nextDouble(), step);
	}

	/** As the test is written down, without the noise of binary fractions. */
	static double step(double value, double step) {
		return Math.rint(Math.rint(value / step) * step * 1e6) / 1e6;
	}

}
