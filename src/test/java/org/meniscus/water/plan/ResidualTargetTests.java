package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.UnitSystem;

/** Chlorine that lasts until the next visit. */
class ResidualTargetTests {

	private static final PoolFacts PLASTER = Pools.plaster(15_000);

	private static final ChlorineDemand LEARNT = new ChlorineDemand(0.08, 0.3, 0, 0.1, 0.25, 0, 12);

	private static PlanRequest request(PoolFacts pool, Readings.Builder readings, double ceiling, int days, ChlorineDemand demand) {
		return new PlanRequest(pool, readings.build(), Situation.ROUTINE, Pools.truck(), TreatmentPolicy.withCeiling(ceiling), days,
				UnitSystem.METRIC)
			.withForecast(PoolForecast.expected(pool).withDemand(demand));
	}

	private static Plan plan(PlanRequest request) {
		return (Plan) Planner.plan(request);
	}

	private static List<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).toList();
	}

	@ParameterizedTest
	@ValueSource(doubles = { 0.7, 0.8, 0.9, 0.95 })
	void fcIsDosedSoThatItHoldsWithTheChanceAskedFor(double chance) {
		PlanRequest asked = request(PLASTER, Pools.balanced().fc(1.0), 10, 7, LEARNT);
		// Nothing that brings stabilizer, and so raises the minimum, is along.
		List<Product> unstabilized = asked.products().stream().filter(product -> !product.kind().ingredient().stabilizedChlorine())
			.toList();
		Plan plan = plan(new PlanRequest(PLASTER, asked.readings(), Situation.ROUTINE, unstabilized,
				asked.policy().withHoldProbability(chance), 7, UnitSystem.METRIC)
			.withForecast(asked.forecast()));
		assertThat(plan.outcome().holdProbability()).isBetween(chance - 0.001, chance + 0.02);
		assertThat(plan.outcome().suggestions()).isEmpty();
		assertThat(plan.outcome().nextVisit().get(Level.FC).middle()).isGreaterThan(plan.assessment().fcMinimum());
	}

	@Test
	void whatHoldsAlreadyIsLeftAlone() {
		assertThat(plan(request(PLASTER, Pools.balanced().fc(9.0), 10, 7, LEARNT)).steps()).isEmpty();
		assertThat(plan(request(PLASTER, Pools.balanced().fc(4.5), 10, 2, LEARNT)).steps()).isEmpty();
	}

	@Test
	void whereNoDoseCanDoItItSaysSoAndOffersWhatCan() {
		Plan plan = plan(request(PLASTER, Pools.balanced().fc(1.0), 4, 7, new ChlorineDemand(0.1, 0.8, 0, 0.1, 0.25, 0, 12)));
		assertThat(plan.after().value(Level.FC, 0)).isLessThanOrEqualTo(4 + 1e-9);
		assertThat(codes(Pools.notes(plan))).contains("note.fc-not-held");
		assertThat(codes(plan.outcome().suggestions())).contains("offer.sooner", "offer.tablets");
		assertThat(plan.outcome().holdProbability()).isLessThan(0.5);
		PoolFacts cell = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.SALT_CELL);
		Plan salt = plan(request(cell, Pools.balanced().fc(1.0).cya(65.0).salt(3200.0), 4, 7,
				new ChlorineDemand(0.1, 0.8, 0.6, 0.1, 0.25, 0.1, 12)));
		assertThat(codes(salt.outcome().suggestions())).contains("offer.cell-times");
	}

	@Test
	void tabletsThatTheLastVisitsRecordedAreCountedOnAndSaid() {
		PoolFacts feeder = Pools.of(15_000, BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.TABLET_FEEDER);
		PlanRequest request = request(feeder, Pools.balanced().fc(3.0), 4, 7, new ChlorineDemand(0.1, 0.5, 0.8, 0.1, 0.2, 0.15, 9));
		PoolForecast forecast = request.forecast();
		PhDrift drift = forecast.phDrift();
		PlanRequest fed = request.withForecast(forecast
			.withPhDrift(
					new PhDrift(drift.exchangeRate(), drift.exchangeLogDeviation(), drift.unexplainedPerWeek(), drift.residualDeviation(),
							0.8, drift.intervals())));
		Reason note = Pools.notes(plan(fed)).stream().filter(one -> one.code().equals("note.tablets-as-before")).findFirst().orElseThrow();
		// 0.8 ppm a day for 7 days in 56.8 m3, tablets of 227 g with 90 % available chlorine.
		assertThat(note.args().get(0)).isEqualTo(new Term.Number(Math.ceil(0.8 * 7 * 15_000 * 3.785411784 / 1000 / (227 * 0.9)), 0));
		assertThat(codes(Pools.notes(plan(request)))).doesNotContain("note.tablets-as-before");
	}

	@Test
	void theExtraVisitOfferedIsTheLastDayThatHolds() {
		PlanRequest request = request(PLASTER, Pools.balanced().fc(1.0), 4, 7, new ChlorineDemand(0, 0.8, 0, 0.1, 0.2, 0, 12));
		Plan plan = plan(request);
		int days = plan.outcome()
			.suggestions()
			.stream()
			.filter(offer -> offer.code().equals("offer.sooner"))
			.map(offer -> ((Term.Days) offer.args().get(0)).days())
			.findFirst()
			.orElseThrow();
		ResidualTarget target = new ResidualTarget(request, request.forecast(), plan.assessment().fcMinimum(), 1.0, 2);
		double fc = plan.after().value(Level.FC, 0);
		ChlorineDemand demand = request.forecast().demand();
		assertThat(demand.exceedanceProbability(fc, target.spread(fc), days, plan.assessment().fcMinimum())).isGreaterThanOrEqualTo(0.9);
		assertThat(demand.exceedanceProbability(fc, target.spread(fc), days + 1, plan.assessment().fcMinimum())).isLessThan(0.9);
	}

	@Test
	void chlorineMayStartAboveTheCeilingWhenItHasComeDownBeforePeopleCome() {
		PlanRequest late = new PlanRequest(PLASTER, Pools.balanced().fc(1.0).build(), Situation.ROUTINE, Pools.truck(),
				TreatmentPolicy.withCeiling(4), 7,
				48.0, UnitSystem.METRIC)
			.withForecast(PoolForecast.expected(PLASTER).withDemand(new ChlorineDemand(0.1, 0.8, 0, 0.1, 0.2, 0, 12)));
		Plan plan = plan(late);
		double start = plan.after().value(Level.FC, 0);
		assertThat(start).isGreaterThan(4.5);
		ResidualTarget target = new ResidualTarget(late, late.forecast(), plan.assessment().fcMinimum(), 1.0, 2);
		assertThat(late.forecast().demand().exceededQuantile(start, target.spread(start), 2, 0.1))
			.as("nine times in ten at the ceiling or below")
			.isLessThanOrEqualTo(4 + 1e-6);
		assertThat(codes(plan.swim().reasons())).contains("swim.fc-falls");
	}

	@Test
	void theMinimumByHypochlorousAcidIsThatOfTheRatioAtItsReferenceAndRisesWithPh() {
		TreatmentPolicy policy = TreatmentPolicy.defaults().withMinimumRule(MinimumRule.HYPOCHLOROUS_ACID);
		double reference = Assessment.of(PLASTER, Pools.balanced().ph(7.5).cya(60.0).celsius(25.0).build(), policy).fcMinimum();
		// CYA 60 over the ratio 20.
		assertThat(reference).isCloseTo(3.0, within(0.25));
		double basic = Assessment.of(PLASTER, Pools.balanced().ph(8.0).cya(60.0).celsius(25.0).build(), policy).fcMinimum();
		assertThat(basic).isGreaterThan(reference * 1.1);
		double acid = Speciation.of(Water.of(8.0, 100, 280, 60, basic, 1000, 0, Temperature.ofCelsius(25))).hocl();
		double asked = Speciation.of(Water.of(7.5, 100, 250, 40, 2, 1000, 0, Temperature.ofCelsius(25))).hocl();
		assertThat(acid).isCloseTo(asked, within(0.01 * asked));
	}

	@Test
	void ofADoubtfulDoseGoesInWhatIsCertain() {
		PoolFacts guessed = PLASTER.withVolume(PLASTER.volume(), VolumeCertainty.ESTIMATED);
		Plan plan = plan(request(guessed, Pools.balanced().fc(0.5), 10, 7, new ChlorineDemand(0.12, 0.5, 0, 0.1, 0.25, 0, 12)));
		assertThat(plan.followUps()).filteredOn(later -> later.reason().code().equals("later.rest-after-test"))
			.singleElement()
			.satisfies(later -> assertThat(later.afterHours()).isGreaterThanOrEqualTo(4));
		Step step = plan.steps().stream().filter(each -> each.purpose() == Step.Purpose.RAISE_FC).findFirst().orElseThrow();
		assertThat(step.amount().amount()).isBetween(0.45 * step.unroundedAmount(), 0.95 * step.unroundedAmount());
		// FC 1 ppm above the ceiling is where it does harm
		assertThat(plan.outcome().justAfter().get(Level.FC).high()).isBetween(10.0, 11.1);
		Plan measured = plan(request(PLASTER.withVolume(PLASTER.volume(), VolumeCertainty.MEASURED), Pools.balanced().fc(0.5), 10, 7,
				new ChlorineDemand(0.12, 0.5, 0, 0.1, 0.25, 0, 12)));
		assertThat(measured.followUps()).isEmpty();
	}

	@Test
	void bandsHoldTheMiddleAndGrowWithTheDoubtOfTheVolume() {
		Readings.Builder low = Pools.balanced().fc(0.5);
		Plan sure = plan(request(PLASTER.withVolume(PLASTER.volume(), VolumeCertainty.MEASURED), low, 4, 7, LEARNT));
		Plan guessed = plan(request(PLASTER.withVolume(PLASTER.volume(), VolumeCertainty.ESTIMATED), low, 4, 7, LEARNT));
		assertThat(guessed.outcome().justAfter().get(Level.FC).width()).isGreaterThan(sure.outcome().justAfter().get(Level.FC).width());
		for (Map.Entry<Level, org.meniscus.water.units.Band> band : sure.outcome().nextVisit().entrySet()) {
			assertThat(band.getValue().low()).as(band.getKey().name()).isLessThanOrEqualTo(band.getValue().middle());
		}
		assertThat(sure.outcome().nextVisit()).containsKeys(Level.FC, Level.PH, Level.TA, Level.CH, Level.CYA);
	}

}
