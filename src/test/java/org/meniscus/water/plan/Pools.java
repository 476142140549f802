package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import java.util.Set;

import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** Pools, readings and requests for tests. */
public final class Pools {

	private Pools() {
	}

	public static PoolFacts plaster(double gallons) {
		return PoolFacts.of(Volume.ofUsGallons(gallons), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, false,
				Sanitizer.CHLORINE_BY_HAND);
	}

	public static PoolFacts of(double gallons, BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer) {
		return PoolFacts.of(Volume.ofUsGallons(gallons), VolumeCertainty.CALCULATED, body, surface, indoor, sanitizer);
	}

	/** Everything in the middle of its range for a stabilized plaster pool. */
	public static Readings.Builder balanced() {
		return Readings.builder().fc(3.0).cc(0.0).ph(7.5).ta(100.0).ch(280.0).cya(40.0).celsius(26.0).drainVisible(true);
	}

	/** One of every kind, all on the truck. */
	static List<Product> truck() {
		List<Product> truck = new ArrayList<>();
		for (ProductKind kind : ProductKind.values()) {
			truck.add(Product.usual(kind.name(), kind));
		}
		return truck;
	}

	static PlanRequest request(PoolFacts pool, Readings readings, Situation situation) {
		return new PlanRequest(pool, readings, situation, truck(), TreatmentPolicy.defaults(), 0, UnitSystem.US);
	}

	/** Everything noted with a plan, in order. */
	static List<Reason> notes(Plan plan) {
		return plan.notes().stream().map(Plan.Note::reason).toList();
	}

	static Plan plan(PoolFacts pool, Readings.Builder readings, Situation situation) {
		return (Plan) Planner.plan(request(pool, readings.build(), situation));
	}

	/** A pool with a floater or a feeder that the service fills, in order but for some of it. */
	public static PlanRequest fed(Random random) {
		Sanitizer sanitizer = random.nextInt(3) > 0 ? Sanitizer.FLOATER : Sanitizer.TABLET_FEEDER;
		PoolFacts pool = of(8000 + 30000 * random.nextDouble(), BodyOfWater.POOL, random.nextInt(4) > 0 ? Surface.PLASTER : Surface.VINYL,
				false, sanitizer);
		Readings.Builder readings = Readings.builder()
			.fc(round(5 * random.nextDouble(), 0.2))
			.ph(round(7.1 + 0.9 * random.nextDouble(), 0.1))
			.ta(round(60 + 100 * random.nextDouble(), 10))
			.ch(round(150 + 300 * random.nextDouble(), 10))
			.cya(round(10 + 50 * random.nextDouble(), 5))
			.celsius(15 + 17 * random.nextDouble())
			.drainVisible(true);
		PlanRequest request = new PlanRequest(pool, readings.build(), Situation.ROUTINE, truck(),
				TreatmentPolicy.withCeiling(4 + 6 * random.nextDouble()),
				3 + random.nextInt(6), null, random.nextBoolean() ? UnitSystem.US : UnitSystem.METRIC);
		return request.withForecast(request.forecast().withTablets(random.nextBoolean() ? DissolvingTablets.NONE : dissolving(random)));
	}

	/** Any request a day may bring: ordinary and odd pools and waters, missing readings, a part of the truck. */
	public static PlanRequest random(Random random) {
		BodyOfWater body = (random.nextInt(8) == 0) ? BodyOfWater.SPA : BodyOfWater.POOL;
		Surface surface = Surface.values()[random.nextInt(Surface.values().length)];
		Sanitizer sanitizer = Sanitizer.values()[random.nextInt(10) < 8 ? random.nextInt(4) : random.nextInt(6)];
		boolean indoor = random.nextInt(8) == 0;
		double gallons = (body == BodyOfWater.SPA) ? 200 + 600 * random.nextDouble()
				: (surface == Surface.SOFT_SIDED) ? 800 + 5000 * random.nextDouble() : 5000 + 35000 * random.nextDouble();
		PoolFacts pool = of(gallons, body, surface, indoor, sanitizer);
		if (random.nextInt(2) == 0) {
			pool = pool.withFill(new FillWater(7.0 + 1.2 * random.nextDouble(), 20 + 200 * random.nextDouble(),
					400 * random.nextDouble(), 600 * random.nextDouble()));
		}
		Readings.Builder readings = Readings.builder()
			.fc(round(random.nextInt(6) == 0 ? 25 * random.nextDouble() : 6 * random.nextDouble(), 0.1))
			.ph(round(6.8 + 1.6 * random.nextDouble(), 0.1))
			.celsius((body == BodyOfWater.SPA) ? 38.0 : 8 + 24 * random.nextDouble())
			.drainVisible(random.nextInt(5) == 0 ? null : Boolean.valueOf(random.nextInt(5) > 0));
		if (random.nextInt(5) > 0) {
			readings.ta(round(30 + 220 * random.nextDouble(), 10));
		}
		if (random.nextInt(5) > 0) {
			readings.ch(round(1000 * random.nextDouble(), 10));
		}
		if (random.nextInt(5) > 0) {
			readings.cya(round(random.nextInt(3) == 0 ? 180 * random.nextDouble() : 70 * random.nextDouble(), 5));
		}
		if (random.nextInt(2) == 0) {
			readings.cc(round(1.5 * random.nextDouble(), 0.2));
		}
		if (sanitizer == Sanitizer.BROMINE) {
			readings.fc(null).bromine(round(12 * random.nextDouble(), 0.2));
		}
		if (sanitizer == Sanitizer.SALT_CELL) {
			readings.salt(round(1500 + 4000 * random.nextDouble(), 50));
		}
		List<Product> products = new ArrayList<>();
		for (Product product : truck()) {
			if (random.nextInt(3) > 0) {
				products.add(product.withOnTruck(random.nextInt(4) > 0));
			}
		}
		Double swim = (random.nextInt(4) == 0) ? Double.valueOf(12 * random.nextDouble()) : null;
		TreatmentPolicy policy = (random.nextInt(3) == 0) ? TreatmentPolicy.withCeiling(3 + 7 * random.nextDouble())
				: TreatmentPolicy.defaults();
		PlanRequest request = new PlanRequest(pool, readings.build(), Situation.values()[random.nextInt(Situation.values().length)],
				products,
				policy, random.nextInt(15), swim, random.nextBoolean() ? UnitSystem.US : UnitSystem.METRIC);
		boolean serviceFills = sanitizer == Sanitizer.FLOATER || (sanitizer == Sanitizer.TABLET_FEEDER && random.nextBoolean());
		return serviceFills && random.nextBoolean() ? request.withForecast(request.forecast().withTablets(dissolving(random))) : request;
	}

	/** The same request with copper, iron, manganese and now and then ammonia and phosphate, and some labels that give a rate. */
	static PlanRequest withTraces(PlanRequest request, Random random) {
		Readings.Builder readings = request.readings()
			.toBuilder()
			.trace(Level.COPPER, 0.05 * random.nextInt(30))
			.trace(Level.IRON, 0.05 * random.nextInt(14))
			.trace(Level.MANGANESE, 0.01 * random.nextInt(9));
		if (random.nextInt(3) == 0) {
			readings.trace(Level.AMMONIA, 0.25 * random.nextInt(12));
		}
		if (random.nextInt(3) == 0) {
			readings.phosphate(100.0 * random.nextInt(30)).trace(Level.COPPER, 0.0).trace(Level.IRON, 0.0).trace(Level.MANGANESE, 0.0);
		}
		boolean rate = random.nextBoolean();
		List<Product> products = request.products()
			.stream()
			.map(product -> (rate && (product.kind() == ProductKind.SEQUESTRANT || product.kind() == ProductKind.LANTHANUM))
					? product.withLabelPerPpm(25.0) : product)
			.toList();
		return new PlanRequest(request.pool(), readings.build(), request.situation(), products, request.policy(),
				request.daysToNextVisit(), request.swimWithinHours(), request.units(), request.lastKnown(), request.forecast());
	}

	/** The same request with its liquid chlorine so many days old. */
	static PlanRequest aged(PlanRequest request, int days, StorageTemperature storage) {
		List<Product> products = request.products().stream().map(product -> product.aged(days, storage)).toList();
		return new PlanRequest(request.pool(), request.readings(), request.situation(), products, request.policy(),
				request.daysToNextVisit(), request.swimWithinHours(), request.units(), request.lastKnown(), request.forecast());
	}

	/** The same request with its readings taken with another kit. */
	static PlanRequest tested(PlanRequest request, TestKit kit) {
		return new PlanRequest(request.pool(), request.readings().toBuilder().kit(kit).build(), request.situation(), request.products(),
				request.policy(), request.daysToNextVisit(), request.swimWithinHours(), request.units(), request.lastKnown(),
				request.forecast());
	}

	/** The same request at a pool with equipment on file, and gauges and panels read. */
	static PlanRequest equipped(Random random, PlanRequest drawn) {
		Equipment.Cell cell = (random.nextInt(5) == 0) ? null
				: new Equipment.Cell(100 + 900 * random.nextDouble(), (random.nextInt(4) == 0) ? null : (double) random.nextInt(101),
						List.of(1, 5, 10, 20).get(random.nextInt(4)));
		Set<Equipment.SecondSystem> systems = new LinkedHashSet<>();
		for (Equipment.SecondSystem system : Equipment.SecondSystem.values()) {
			if (random.nextInt(4) == 0) {
				systems.add(system);
			}
		}
		double litres = Objects.requireNonNull(drawn.pool().volume()).litres();
		Equipment equipment = new Equipment(cell, (random.nextInt(5) == 0) ? null : 2 + 22 * random.nextDouble(),
				(random.nextInt(4) == 0) ? null : litres / (3 + 30 * random.nextDouble()),
				(random.nextInt(4) == 0) ? null : Equipment.Filter.values()[random.nextInt(3)],
				(random.nextInt(4) == 0) ? null : 40 + 120 * random.nextDouble(),
				(random.nextInt(3) == 0) ? 12 * random.nextDouble() : null, (random.nextInt(3) == 0) ? 8 * random.nextDouble() : null,
				systems);
		SiteConditions site = new SiteConditions((random.nextInt(3) == 0) ? null : 30 + 200 * random.nextDouble(),
				(random.nextInt(3) == 0) ? (double) random.nextInt(101) : null,
				(random.nextInt(2) == 0) ? null : 1500 + 4000 * random.nextDouble(), random.nextInt(5) == 0, random.nextInt(5) == 0);
		Readings readings = drawn.readings().toBuilder().site(site).build();
		PoolFacts pool = drawn.pool().withEquipment(equipment);
		return new PlanRequest(pool, readings, drawn.situation(), drawn.products(), drawn.policy(), drawn.daysToNextVisit(),
				drawn.swimWithinHours(), drawn.units(), drawn.lastKnown(),
				learnt(random, PoolForecast.expected(pool, readings)).withTablets(drawn.forecast().tablets()));
	}

	/** As if some visits had taught how fast its water meets the air. */
	private static PoolForecast learnt(Random random, PoolForecast expected) {
		PhDrift own = expected.phDrift();
		return expected.withPhDrift(new PhDrift(own.exchangeRate() * (0.5 + 3 * random.nextDouble()), own.exchangeLogDeviation(),
				own.unexplainedPerWeek(), own.residualDeviation(), own.tablets(), random.nextInt(8)));
	}

	private static DissolvingTablets dissolving(Random random) {
		double ppm = 10 * random.nextDouble();
		return new DissolvingTablets(ppm * random.nextDouble(), ppm / DissolvingTablets.DISSOLVING_DAYS);
	}

	static double round(double value, double step) {
		return Math.round(value / step) * step;
	}

}
