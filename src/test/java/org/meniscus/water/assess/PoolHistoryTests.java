package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.water.assess.PoolHistory.Visit;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.Volume;

/** Visits of pools whose use the test makes by the equation of {@link ChlorineDemand}. */
class PoolHistoryTests {

	private static final PoolFacts YARD = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL,
			Surface.PLASTER,
			false, Sanitizer.CHLORINE_BY_HAND);

	/** 12.5 % by trade: 125 g of chlorine a litre, so 2 L bring 5 ppm into 50 m³. */
	private static final RecordedDose FIVE_PPM = new RecordedDose(ProductKind.LIQUID_CHLORINE_125, 0.125, StrengthBasis.TRADE, 2000);

	@Test
	void withoutVisitsItIsExpectedOfItsKind() {
		PoolHistory history = new PoolHistory(YARD, List.of());
		assertThat(history.forecast().demand().learnt()).isFalse();
		assertThat(history.describe()).extracting(Reason::code).containsExactly("outlook.use-expected", "outlook.ph-rises");
	}

	@Test
	void learnsWhatThePoolUsesFromTestsAndRecordedDoses() {
		ChlorineDemand truth = ChlorineDemand.exactly(0.18, 0.3, 0);
		PoolForecast forecast = new PoolHistory(YARD, visits(truth, FIVE_PPM, 0)).forecast();
		assertThat(forecast.demand().intervals()).isEqualTo(11);
		assertThat(forecast.demand().use(4).middle()).isCloseTo(truth.use(4).middle(), within(0.15 * truth.use(4).middle()));
		assertThat(forecast.phDrift().intervals()).isEqualTo(11);
	}

	@Test
	void toldInFigures() {
		Reason use = new PoolHistory(YARD, visits(ChlorineDemand.exactly(0.18, 0.3, 0), FIVE_PPM, 0)).describe().get(0);
		assertThat(use.code()).isEqualTo("outlook.use-learnt");
		assertThat(use.args()).hasSize(4).last().isEqualTo(new Term.Number(11, 0));
	}

	@Test
	void aDoseOfUnknownStrengthTellsNothing() {
		RecordedDose unknown = new RecordedDose(ProductKind.LIQUID_CHLORINE_125, null, null, 2000);
		assertThat(new PoolHistory(YARD, visits(ChlorineDemand.exactly(0.18, 0.3, 0), unknown, 0)).forecast().demand().learnt()).isFalse();
	}

	/** Trichlor tablets of 90 % available chlorine: 500 g bring 9 ppm into 50 m³, dissolving over the week. */
	@Test
	void tabletsBringTheirChlorineOverAWeek() {
		PoolFacts feeder = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, false,
				Sanitizer.TABLET_FEEDER);
		RecordedDose tablets = new RecordedDose(ProductKind.TRICHLOR_TAB, 0.9, StrengthBasis.PURITY, 500);
		PoolForecast forecast = new PoolHistory(feeder, visits(ChlorineDemand.exactly(0.2, 0.5, 9 / 7.0), tablets, -1)).forecast();
		assertThat(forecast.demand().supply()).isCloseTo(9 / 7.0, within(0.01));
		assertThat(forecast.phDrift().tablets()).isCloseTo(9 / 7.0, within(0.01));
		assertThat(forecast.demand().use(3).middle()).isCloseTo(1.1, within(0.2));
	}

	@Test
	void halfTheWaterReplacedTakesHalfOfTheChlorine() {
		PoolFacts hall = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, true,
				Sanitizer.CHLORINE_BY_HAND);
		double found = ChlorineDemand.exactly(0.05, 0.35, 0).expected(3, 4);
		List<Visit> visits = List.of(visit(0, 6, List.of(), 0.5), visit(4, found, List.of(), null));
		// half a ppm a day is what is expected of its kind, so nothing may move
		assertThat(new PoolHistory(hall, visits).forecast().demand().use(3).middle()).isCloseTo(0.5, within(0.02));
		visits = List.of(visit(0, 6, List.of(), null), visit(4, found, List.of(), null));
		assertThat(new PoolHistory(hall, visits).forecast().demand().use(3).middle()).isGreaterThan(0.8);
	}

	/** Five tests of 40 and one of 60 are no pool of 60, whose share that sun takes would be less than half. */
	@Test
	void oneHighTestOfCyaHardlyMovesTheUse() {
		double before = share(40, 40, 40, 40, 40, 40);
		assertThat(share(60)).isLessThan(0.75 * before);
		assertThat(share(40, 40, 40, 40, 40, 60)).isBetween(0.85 * before, before);
	}

	/** 0.607 ppm CYA with each ppm FC of trichlor, by its formula: 9 ppm a week are 5.5 ppm of CYA that no test has told yet. */
	@Test
	void tabletsBringCyaBeforeItIsTestedAgain() {
		RecordedDose tablets = new RecordedDose(ProductKind.TRICHLOR_TAB, 0.9, StrengthBasis.PURITY, 500);
		List<Visit> visits = List.of(visit(0, 3, List.of(tablets), null), visit(7, 3, List.of(), null), visit(14, 3, List.of(), null));
		double lost = Math.exp(-0.0025 * 7);
		PoolHistory history = new PoolHistory(YARD, visits.subList(0, 2));
		assertThat(history.waterAfterLastVisit().orElseThrow().cyanuricAcid()).isCloseTo((40 + 9 * 0.607) * lost, within(0.02));
		assertThat(new PoolHistory(YARD, visits).waterAfterLastVisit().orElseThrow().cyanuricAcid()).isCloseTo(
				(40 + 9 * 0.607) * lost * lost,
				within(0.02));
	}

	/** Share of FC lost a day when CYA was tested so, each four weeks. */
	private static double share(double... cya) {
		List<Visit> visits = new ArrayList<>();
		for (double tested : cya) {
			Readings readings = Readings.builder().ph(7.5).ta(90.0).cya(tested).celsius(28.0).build();
			visits.add(new Visit(28L * visits.size(), readings, Situation.ROUTINE, List.of(), null));
		}
		return new PoolHistory(YARD, visits).forecast().demand().firstOrderRate();
	}

	@Test
	void readingsThatCannotBeAreLeftOut() {
		List<Visit> visits = new ArrayList<>(visits(ChlorineDemand.exactly(0.18, 0.3, 0), FIVE_PPM, 0));
		Readings wrong = Readings.builder().fc(1.0).ph(8.4).ta(5.0).cya(300.0).celsius(900.0).build();
		visits.add(6, new Visit(38, wrong, Situation.ROUTINE, List.of(), null));
		assertThat(new PoolHistory(YARD, visits).forecast().demand().intervals()).isEqualTo(10);
	}

	@Test
	void withoutVolumeOrChlorineNothingIsLearnt() {
		assertThat(new PoolHistory(YARD.withVolume(null, VolumeCertainty.UNVERIFIED),
				visits(ChlorineDemand.exactly(0.18, 0.3, 0), FIVE_PPM, 0))
			.forecast()
			.demand()
			.learnt()).isFalse();
		PoolFacts bromine = PoolFacts.of(Volume.ofLitres(1500), VolumeCertainty.CALCULATED, BodyOfWater.SPA, Surface.FIBREGLASS, false,
				Sanitizer.BROMINE);
		assertThat(new PoolHistory(bromine, List.of()).describe()).isEmpty();
	}

	/** Twelve weekly visits with one dose each. @param brought FC of the dose at once, zero = 5 ppm */
	private static List<Visit> visits(ChlorineDemand truth, RecordedDose dose, double brought) {
		List<Visit> visits = new ArrayList<>();
		double fc = 2;
		for (int week = 0; week < 12; week++) {
			visits.add(visit(7L * week, fc, List.of(dose), null));
			fc = truth.expected(fc + ((brought < 0) ? 0 : 5), 7);
		}
		return visits;
	}

	private static Visit visit(long day, double fc, List<RecordedDose> doses, @Nullable Double replaced) {
		Readings readings = Readings.builder().fc(fc).ph(7.5).ta(90.0).ch(300.0).cya((day % 28 == 0) ? 40.0 : null).celsius(28.0).build();
		return new Visit(day, readings, Situation.ROUTINE, doses, replaced);
	}

}
