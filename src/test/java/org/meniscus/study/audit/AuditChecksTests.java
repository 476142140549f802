package org.meniscus.study.audit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** That the checks find what is wrong: a sound plan set beside a water, readings or a pool that are not its own. */
class AuditChecksTests {

	private static final PlanRequest REQUEST = request(Surface.PLASTER, false,
			Readings.builder().fc(1.0).ph(7.5).ta(90.0).ch(280.0).cya(40.0).celsius(27.0).drainVisible(true).build());

	private static final AuditCase SOUND = AuditCase.of(REQUEST, (Plan) Planner.plan(REQUEST));

	private static final PlanRequest ACID = request(Surface.PLASTER, false, REQUEST.readings().toBuilder().ph(8.0).build());

	private static PlanRequest request(Surface surface, boolean indoor, Readings readings) {
		PoolFacts pool = PoolFacts.of(Volume.ofUsGallons(15_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL, surface, indoor,
				Sanitizer.CHLORINE_BY_HAND);
		List<Product> truck = new ArrayList<>();
		for (ProductKind kind : ProductKind.values()) {
			truck.add(Product.usual(kind.name(), kind));
		}
		return new PlanRequest(pool, readings, Situation.ROUTINE, truck, TreatmentPolicy.defaults(), 7, UnitSystem.US);
	}

	/** The same plan, but the checker's arithmetic is told that the water ends like this. */
	private static List<AuditCheck> levelsEndingIn(AuditWater end) {
		List<AuditWater> waters = new ArrayList<>(SOUND.waters());
		waters.set(waters.size() - 1, end);
		return checks(AuditLevels.check(new AuditCase(REQUEST, SOUND.plan(), SOUND.readings(), SOUND.now(), waters)));
	}

	private static List<AuditCheck> checks(List<AuditCheck.Finding> findings) {
		return findings.stream().map(AuditCheck.Finding::check).toList();
	}

	@Test
	void soundPlanPasses() {
		assertThat(SOUND.plan().steps()).isNotEmpty();
		assertThat(AuditLevels.check(SOUND)).isEmpty();
		assertThat(SOUND.settled().fc()).isEqualTo(1.0);
		assertThat(SOUND.after().fc()).isGreaterThan(2);
	}

	@Test
	void waterThatEndsWrongIsFound() {
		AuditWater end = SOUND.after();
		assertThat(levelsEndingIn(end.plus(0, -30, 0, 0, 0, 0, 0, 0))).contains(AuditCheck.PH_LEFT_OUT, AuditCheck.PH_OUT_WITH_CHLORINE,
				AuditCheck.INDEX_LEFT, AuditCheck.LEVELS);
		assertThat(levelsEndingIn(end.plus(0, 0, 0, 0, -2.5, 0, 0, 0))).contains(AuditCheck.BELOW_MINIMUM, AuditCheck.LEVELS);
		// CYA of 120 ppm asks for more than the ceiling: the dose is to come near it
		assertThat(levelsEndingIn(end.plus(0, 0, 0, 80, -1.5, 0, 0, 0))).contains(AuditCheck.BELOW_MINIMUM);
	}

	@Test
	void acidThatTakesTheIndexTooFarIsFound() {
		AuditCase at = AuditCase.of(ACID, (Plan) Planner.plan(ACID));
		assertThat(checks(AuditLevels.check(at))).doesNotContain(AuditCheck.INDEX_BY_ACID);
		List<AuditWater> waters = new ArrayList<>(at.waters());
		int acid = at.plan().steps().stream().map(Step::purpose).toList().indexOf(Step.Purpose.LOWER_PH);
		assertThat(acid).isNotNegative();
		waters.set(acid, waters.get(acid).plus(0, -40, 0, 0, 0, 0, 0, 0));
		assertThat(checks(AuditLevels.check(new AuditCase(ACID, at.plan(), at.readings(), at.now(), waters))))
			.contains(AuditCheck.INDEX_BY_ACID);
	}

	@Test
	void openThoughClosedIsFound() {
		assertThat(AuditSwim.check(SOUND)).isEmpty();
		for (Readings readings : List.of(SOUND.readings().toBuilder().drainVisible(false).build(),
				SOUND.readings().toBuilder().cc(3.0).build())) {
			AuditCase other = new AuditCase(REQUEST, SOUND.plan(), readings, SOUND.now(), SOUND.waters());
			assertThat(checks(AuditSwim.check(other))).containsExactly(AuditCheck.OPEN_THOUGH_CLOSED);
		}
	}

	@Test
	void offersThatDoNotFitThePoolAreFound() {
		// A cover is offered where it suffices: until tomorrow.
		PlanRequest untilTomorrow = new PlanRequest(REQUEST.pool(), REQUEST.readings(), Situation.ROUTINE, REQUEST.products(),
				REQUEST.policy(), 1, UnitSystem.US);
		Plan offering = (Plan) Planner.plan(untilTomorrow);
		assertThat(AuditCase.of(untilTomorrow, offering).offers("offer.tablets")).isTrue();
		assertThat(AuditCase.of(untilTomorrow, offering).offers("offer.cover")).isTrue();
		PlanRequest vinyl = request(Surface.VINYL, false, REQUEST.readings());
		PlanRequest hall = request(Surface.PLASTER, true, REQUEST.readings());
		assertThat(checks(AuditWords.check(AuditCase.of(vinyl, offering), AuditText.english()))).contains(AuditCheck.TABLETS_OFFERED);
		assertThat(checks(AuditWords.check(AuditCase.of(hall, offering), AuditText.english()))).contains(AuditCheck.OUT_OF_PLACE);
		assertThat(checks(AuditWords.check(SOUND, AuditText.english()))).isEmpty();
	}

}
