package org.meniscus.study;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** How long the engine takes: {@code mvn -q test-compile exec:exec@speed -Dspeed=WaterBenchmark}. */
@State(Scope.Thread)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class WaterBenchmark {

	private final Water water = Water.of(7.6, 100, 250, 40, 3, 1200, 0, Temperature.ofCelsius(26));

	private final PlanRequest low = request(Sanitizer.CHLORINE_BY_HAND,
			Readings.builder().fc(0.8).cc(0.2).ph(7.9).ta(70.0).ch(180.0).cya(20.0).celsius(28.0).build());

	private final PlanRequest floater = request(Sanitizer.FLOATER,
			Readings.builder().fc(0.8).cc(0.2).ph(7.9).ta(80.0).ch(180.0).cya(20.0).celsius(28.0).build());

	/** Equilibrium of one water: pH, TA and temperature given. */
	@Benchmark
	public Speciation equilibrium() {
		return Speciation.of(this.water);
	}

	/** A whole plan: chlorine low, pH high, TA, CH and CYA low, every product of the usual list along. */
	@Benchmark
	public PlanResult plan() {
		return Planner.plan(this.low);
	}

	/** The same where tablets may go in a floater, with TA enough for them: counts of tablets besides. */
	@Benchmark
	public PlanResult planWithTablets() {
		return Planner.plan(this.floater);
	}

	private static PlanRequest request(Sanitizer sanitizer, Readings readings) {
		List<Product> products = new ArrayList<>();
		for (ProductKind kind : ProductKind.values()) {
			products.add(Product.usual(kind.name(), kind));
		}
		PoolFacts pool = PoolFacts.of(Volume.ofUsGallons(15000), VolumeCertainty.ESTIMATED, BodyOfWater.POOL, Surface.PLASTER, false,
				sanitizer);
		return new PlanRequest(pool, readings, Situation.ROUTINE, products, TreatmentPolicy.defaults(), 7, UnitSystem.US);
	}

}
