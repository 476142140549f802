package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** The ends of rules, where being off by one shows. Limits are those of the rules and marked there. */
class PlanLimitsTests {

	private static final PoolFacts PLASTER = Pools.plaster(15_000);

	private static final Product CAL_HYPO = Product.usual("cal-hypo", ProductKind.CAL_HYPO_65);

	private static Plan plan(PoolFacts pool, Readings.Builder readings, @Nullable Double swimWithinHours, Product... products) {
		return (Plan) Planner.plan(new PlanRequest(pool, readings.build(), Situation.ROUTINE, List.of(products),
				TreatmentPolicy.defaults(), 0, swimWithinHours, UnitSystem.METRIC));
	}

	private static List<String> rejected(Plan plan) {
		return plan.rejected().stream().map(alternative -> alternative.reason().code()).toList();
	}

	@ParameterizedTest
	@CsvSource({ "true, OPEN", "false, CLOSED" })
	void drainOutOfSightMeansNobodySwimsBeforeAnotherLook(boolean drainVisible, SwimReadiness.State state) {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(4.0).drainVisible(drainVisible), Situation.ROUTINE);
		assertThat(plan.steps()).as("nothing else is in the way").isEmpty();
		assertThat(plan.swim().state()).isEqualTo(state);
	}

	/** A colour test of pH is bleached or misread above 10 ppm of FC: on either side no dose rests on it. */
	@ParameterizedTest
	@CsvSource({ "10, 6.9, true", "10.2, 6.9, false", "10, 8.4, true", "10.2, 8.4, false" })
	void phReadAboveTenPpmOfChlorineIsNotDosedOn(double fc, double ph, boolean dosed) {
		Plan plan = Pools.plan(PLASTER, Pools.balanced().fc(fc).ph(ph), Situation.ROUTINE);
		assertThat(plan.steps()).extracting(Step::purpose)
			.filteredOn(purpose -> purpose == Step.Purpose.RAISE_PH || purpose == Step.Purpose.LOWER_PH)
			.hasSize(dosed ? 1 : 0);
	}

	/** Beyond monochloramine breakpoint takes half a mole of chlorine for each mole of it: 2 NH2Cl + HOCl = N2 + 3 HCl + H2O. */
	@Test
	void shockDoseIncludesHalfOfTheCombinedChlorine() {
		Plan without = Pools.plan(PLASTER, Pools.balanced().fc(0.2).ph(7.3).cya(20.0).cc(0.0), Situation.GREEN_ALGAE_LIGHT);
		Plan with = Pools.plan(PLASTER, Pools.balanced().fc(0.2).ph(7.3).cya(20.0).cc(2.0), Situation.GREEN_ALGAE_LIGHT);
		assertThat(with.after().value(Level.FC, 0) - without.after().value(Level.FC, 0)).isCloseTo(0.5 * 2, within(0.25));
	}

	@ParameterizedTest
	@CsvSource({ "349, false", "350, true" })
	void calciumHypochloriteIsTheLastResortFromTheHardnessLimitOn(double ch, boolean last) {
		Plan plan = plan(PLASTER, Pools.balanced().fc(0.3).ph(7.3).ch(ch), null, CAL_HYPO);
		assertThat(rejected(plan)).isEmpty();
		assertThat(plan.steps()).singleElement()
			.satisfies(step -> assertThat(step.choiceReason().code()).isEqualTo(last ? "choice.last-resort" : "choice.cal-hypo"));
		Plan beside = plan(PLASTER, Pools.balanced().fc(0.3).ph(7.3).ch(ch), null, CAL_HYPO,
				Product.usual("liquid", ProductKind.LIQUID_CHLORINE_10));
		assertThat(beside.steps()).singleElement()
			.satisfies(step -> assertThat(step.alternatives()).extracting(other -> other.reason().code())
				.containsExactly(last ? "reject.cal-hypo-hard" : "alternative.waits-longer"));
	}

	@ParameterizedTest
	@CsvSource({ "0, false", "-0.1, true" })
	void swimmersExpectedJustWhenTheWaitEndsAreNotTooSoon(double hoursMore, boolean last) {
		double wait = CAL_HYPO.kind().waitHours();
		assertThat(wait).isEqualTo(8);
		Plan plan = plan(PLASTER, Pools.balanced().fc(0.3).ph(7.3), wait + hoursMore, CAL_HYPO);
		assertThat(plan.steps()).as("below its minimum the pool is closed anyway").singleElement()
			.satisfies(step -> assertThat(step.choiceReason().code()).isEqualTo(last ? "choice.last-resort" : "choice.cal-hypo"));
		assertThat(plan.swim().state()).as("and the plan says when").isEqualTo(SwimReadiness.State.AFTER_WAIT);
	}

	/** A package of a thousand doses that costs 1,600, 1,400 cents and so on: a dose is 1.6, 1.4 cents before rounding. */
	@ParameterizedTest
	@CsvSource({ "1600, 2", "1400, 1", "400, 0", "600, 1", "2000, 2" })
	void stepCostIsRoundedToTheNearestCent(long packageCents, long expected) {
		Readings.Builder readings = Pools.balanced().fc(0.3).ph(7.3);
		MeasuredAmount dose = Objects.requireNonNull(plan(PLASTER, readings, null, CAL_HYPO).steps().get(0).amount());
		Plan priced = plan(PLASTER, readings, null, CAL_HYPO.withPrice(1000 * dose.amount(), packageCents));
		assertThat(priced.steps().get(0).costCents()).isEqualTo(expected);
	}

	@Test
	void replacementSaysWhereFillWaterIsUnknown() {
		Readings.Builder hard = Pools.balanced().ch(1400.0);
		assertThat(drainCautions(PLASTER, hard)).contains("drain.fill-unknown");
		assertThat(drainCautions(PLASTER.withFill(new FillWater(7.6, 90.0, 120.0, 60.0)), hard)).doesNotContain("drain.fill-unknown")
			.isNotEmpty();
	}

	private static List<String> drainCautions(PoolFacts pool, Readings.Builder readings) {
		WaterReplacement replacement = Objects.requireNonNull(Pools.plan(pool, readings, Situation.ROUTINE).replacement());
		return replacement.cautions().stream().map(Reason::code).toList();
	}

	/** Middle of what "less than 30" can be, the least that "more than 100" can be. */
	@ParameterizedTest
	@CsvSource({ "30, BELOW, 15", "100, ABOVE, 100", "30, EXACT, 30" })
	void stabilizerOffTheTubeCountsAsTheMiddleOfWhatItCanBe(double cya, ReadingQualifier qualifier, double expected) {
		PoolWater water = PoolWater.of(PLASTER, Pools.balanced().cya(cya, qualifier).build());
		assertThat(water.water().cyanuricAcid()).isEqualTo(expected);
	}

}
