package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Objects;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.units.Band;

/** Plans on readings of other kits than the usual. */
class TestKitPlanTests {

	/** Whatever the pool: where the usual kit asks for a drain on a level tested today, strips ask for another test instead. */
	@Test
	void stripsNeverDecideADrain() {
		Random random = new Random(23);
		int drains = 0;
		for (int i = 0; i < Draws.COUNT; i++) {
			PlanRequest request = Pools.random(random);
			if (!(Planner.plan(Pools.tested(request, TestKit.STRIPS)) instanceof Plan strips)) {
				continue;
			}
			WaterReplacement replacement = strips.replacement();
			if (replacement != null) {
				assertThat(codes(replacement.reasons())).as(request.readings().toString()).contains("replace.foam")
					.isSubsetOf("replace.foam", "replace.side");
			}
			WaterReplacement usual = ((Plan) Planner.plan(request)).replacement();
			if (usual != null
					&& codes(usual.reasons()).stream().noneMatch(code -> code.equals("replace.foam") || code.equals("replace.pays"))) {
				drains++;
				assertThat(codes(Pools.notes(strips))).as(request.readings().toString()).contains("replace.drops-first");
			}
		}
		assertThat(drains).isGreaterThan(Draws.COUNT / 50);
	}

	@Test
	void coarserKitLeavesWiderBands() {
		PlanRequest request = Pools.request(Pools.plaster(15_000), Pools.balanced().fc(1.0).build(), Situation.ROUTINE);
		double usual = width(request, TestKit.DROPS_25_ML);
		assertThat(width(request, TestKit.DROPS_10_ML)).isGreaterThan(usual);
		assertThat(width(request, TestKit.STRIPS)).isGreaterThan(width(request, TestKit.DROPS_10_ML));
		assertThat(width(request, TestKit.PHOTOMETER)).isLessThan(usual);
	}

	private static double width(PlanRequest request, TestKit kit) {
		Band band = Objects.requireNonNull(((Plan) Planner.plan(Pools.tested(request, kit))).outcome().justAfter().get(Level.FC));
		return band.high() - band.low();
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

}
