package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.assess.PoolHistory.Visit;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.Volume;

/** What visits leave in the water: levels carried and dosed, tablets still dissolving, intervals that count. 50 m³, by hand. */
class PoolHistoryWaterTests {

	private static final PoolFacts YARD = pool(Sanitizer.CHLORINE_BY_HAND);

	private static final Readings FULL = Readings.builder()
		.fc(3.0)
		.ph(7.5)
		.ta(90.0)
		.ch(300.0)
		.cya(40.0)
		.salt(1500.0)
		.borate(20.0)
		.celsius(20.0)
		.build();

	/** 500 g of 90 % in 50 m³ are 9 ppm of FC, a seventh of it a day. */
	private static final RecordedDose TABLETS = new RecordedDose(ProductKind.TRICHLOR_TAB, 0.9, StrengthBasis.PURITY, 500);

	@ParameterizedTest
	@CsvSource({ "0, 9, 1.2857", "3, 5.1429, 1.2857", "6, 1.2857, 1.2857", "7, 0, 0", "20, 0, 0" })
	void whatIsLeftOfTheTabletsFollowsFromTheDays(int days, double left, double perDay) {
		PoolFacts floater = pool(Sanitizer.FLOATER);
		List<Visit> visits = (days == 0) ? List.of(visit(0, FULL, TABLETS)) : List.of(visit(0, FULL, TABLETS), visit(days, FULL));
		DissolvingTablets tablets = new PoolHistory(floater, visits).forecast().tablets();
		assertThat(tablets).isNotNull();
		assertThat(tablets.undissolved()).isCloseTo(left, within(1e-3));
		assertThat(tablets.perDay()).isCloseTo(perDay, within(1e-3));
	}

	@Test
	void tabletsOfTwoVisitsDissolveTogether() {
		DissolvingTablets tablets = new PoolHistory(pool(Sanitizer.TABLET_FEEDER),
				List.of(visit(0, FULL, TABLETS), visit(4, FULL, TABLETS)))
			.forecast()
			.tablets();
		assertThat(tablets).isNotNull();
		assertThat(tablets.undissolved()).isCloseTo(9 * 3 / 7.0 + 9, within(1e-9));
		assertThat(tablets.perDay()).isCloseTo(2 * 9 / 7.0, within(1e-9));
	}

	@Test
	void tabletsArePlannedOnlyWhereTheServicePutsThemIn() {
		assertThat(new PoolHistory(pool(Sanitizer.FLOATER), List.of()).forecast().tablets()).isEqualTo(DissolvingTablets.NONE);
		assertThat(new PoolHistory(pool(Sanitizer.TABLET_FEEDER), List.of(visit(0, FULL))).forecast().tablets())
			.as("others may fill the feeder")
			.isNull();
		assertThat(new PoolHistory(YARD, List.of(visit(0, FULL, TABLETS))).forecast().tablets()).isNull();
	}

	/** What nobody tested the second time stands as tested the first, with what was dosed: 4.2 kg of bicarbonate are 49.8 ppm of TA. */
	@Test
	void levelsNobodyTestedAgainStandWithWhatWasDosed() {
		RecordedDose bicarbonate = new RecordedDose(ProductKind.BICARB, 0.995, StrengthBasis.PURITY, 4200);
		RecordedDose calcium = new RecordedDose(ProductKind.CAL_CHLORIDE_77, 0.77, StrengthBasis.PURITY, 1000);
		RecordedDose salt = new RecordedDose(ProductKind.SALT, 0.995, StrengthBasis.PURITY, 5000);
		RecordedDose borax = new RecordedDose(ProductKind.BORAX, 0.99, StrengthBasis.PURITY, 3000);
		Water water = after(visit(0, FULL, bicarbonate, calcium, salt, borax), visit(7, Readings.builder().fc(2.0).ph(7.6).build()))
			.orElseThrow();
		double boron = 3000 * 0.99 * 0.14842 / 50;
		assertThat(water.totalAlkalinity()).isCloseTo(90 + 4200 * 0.995 / 50 * 0.59571 + 2.3146 * boron, within(0.05));
		assertThat(water.calciumHardness()).isCloseTo(300 + 1000 * 0.77 * 0.90184 / 50, within(0.05));
		assertThat(water.salt()).isCloseTo(1500 + 5000 * 0.995 / 50 + 1000 * 0.77 / 50 * 2 * 58.44 / 110.98, within(0.1));
		assertThat(water.borate()).isCloseTo(20 + boron, within(0.01));
		assertThat(water.temperature().celsius()).isEqualTo(20);
		assertThat(water.freeChlorine()).isEqualTo(2);
		assertThat(water.ph()).isEqualTo(7.6);
	}

	@Test
	void levelsTestedAgainAreThoseOfTheNewTest() {
		Readings again = FULL.toBuilder().ta(110.0).ch(310.0).salt(1600.0).borate(25.0).celsius(24.0).build();
		Water water = after(visit(0, FULL), visit(7, again)).orElseThrow();
		assertThat(water.totalAlkalinity()).isEqualTo(110);
		assertThat(water.calciumHardness()).isEqualTo(310);
		assertThat(water.salt()).isEqualTo(1600);
		assertThat(water.borate()).isEqualTo(25);
		assertThat(water.temperature().celsius()).isEqualTo(24);
	}

	/** What was never tested stays assumed, also after a dose, and is not carried as if it had been tested. */
	@Test
	void levelsNeverTestedStayAssumed() {
		Readings little = Readings.builder().fc(2.0).ph(7.6).build();
		RecordedDose calcium = new RecordedDose(ProductKind.CAL_CHLORIDE_77, 0.77, StrengthBasis.PURITY, 1000);
		Water water = after(visit(0, little, calcium), visit(7, little)).orElseThrow();
		assertThat(water.calciumHardness()).as("as assumed").isEqualTo(250);
		assertThat(water.totalAlkalinity()).isEqualTo(100);
		assertThat(water.salt()).isEqualTo(1000);
		assertThat(water.cyanuricAcid()).isEqualTo(40);
	}

	@Test
	void replacedWaterIsMixedBeforeTheDoses() {
		PoolFacts filled = YARD.withFill(new FillWater(7.6, 50.0, 100.0, 100.0));
		RecordedDose chlorine = new RecordedDose(ProductKind.LIQUID_CHLORINE_125, 0.125, StrengthBasis.TRADE, 2000);
		Water water = new PoolHistory(filled, List.of(new Visit(0, FULL, Situation.ROUTINE, List.of(chlorine), 0.5)))
			.waterAfterLastVisit()
			.orElseThrow();
		assertThat(water.freeChlorine()).isCloseTo(1.5 + 5, within(1e-9));
		assertThat(water.calciumHardness()).isCloseTo(200, within(1e-9));
	}

	@Test
	void waterIsUnknownWhereADoseCannotBeWorkedOut() {
		RecordedDose unknownChlorine = new RecordedDose(ProductKind.CAL_HYPO_65, null, StrengthBasis.PURITY, 200);
		RecordedDose remover = new RecordedDose(ProductKind.THIOSULFATE, 0.99, StrengthBasis.PURITY, 50);
		RecordedDose ton = new RecordedDose(ProductKind.SALT, 0.995, StrengthBasis.PURITY, 300_000);
		assertThat(after(visit(0, FULL, unknownChlorine))).isEmpty();
		assertThat(after(visit(0, FULL, remover))).isEmpty();
		assertThat(after(visit(0, FULL, ton))).as("6 g/L once").isPresent();
		assertThat(after(visit(0, FULL, ton, ton))).as("12 g/L are a slip of the pen").isEmpty();
		assertThat(after(visit(0, FULL.toBuilder().ta(10.0).cya(200.0).build()))).as("contradictory").isEmpty();
		assertThat(new PoolHistory(YARD.withVolume(null, VolumeCertainty.UNVERIFIED), List.of(visit(0, FULL))).waterAfterLastVisit())
			.isEmpty();
		RecordedDose clarifier = new RecordedDose(ProductKind.CLARIFIER, null, StrengthBasis.PURITY, 500);
		assertThat(after(visit(0, FULL, clarifier)).orElseThrow().totalAlkalinity()).as("moves no level").isEqualTo(90);
		assertThat(after()).isEmpty();
	}

	@Test
	void readingsNoTestCanShowAreLeftOut() {
		for (Readings wrong : List.of(FULL.toBuilder().ph(3.9).build(), FULL.toBuilder().ph(10.1).build(),
				FULL.toBuilder().fc(101.0).build(), FULL.toBuilder().celsius(60.0).build())) {
			assertThat(after(visit(0, wrong))).isEmpty();
		}
		for (Readings odd : List.of(FULL.toBuilder().fc(100.0).build(), FULL.toBuilder().fc(0.0).build(),
				FULL.toBuilder().ph(10.0).ta(400.0).build())) {
			assertThat(after(visit(0, odd))).as("%s", odd).isPresent();
		}
	}

	/** An interval needs FC at both ends and one to 21 days between. */
	@ParameterizedTest
	@CsvSource({ "0, 0", "1, 1", "7, 1", "21, 1", "22, 0" })
	void anIntervalIsADayToThreeWeeks(int days, int counted) {
		PoolForecast forecast = new PoolHistory(YARD, List.of(visit(0, FULL), visit(days, FULL.toBuilder().fc(1.0).build()))).forecast();
		assertThat(forecast.demand().intervals()).isEqualTo(counted);
		assertThat(forecast.phDrift().intervals()).isEqualTo(counted);
	}

	@Test
	void withoutAChlorineTestAtBothEndsNothingCounts() {
		Readings without = FULL.toBuilder().fc(null).build();
		assertThat(new PoolHistory(YARD, List.of(visit(0, without), visit(7, FULL))).forecast().demand().intervals()).isZero();
		assertThat(new PoolHistory(YARD, List.of(visit(0, FULL), visit(7, without))).forecast().demand().intervals()).isZero();
	}

	@Test
	void phCountsWhereBothTestsShowedItAndAlkalinityIsKnown() {
		assertThat(phIntervals(FULL, FULL)).isEqualTo(1);
		assertThat(phIntervals(FULL, Readings.builder().fc(2.0).ph(7.6).build())).as("alkalinity of the visit before").isEqualTo(1);
		assertThat(phIntervals(FULL.toBuilder().ta(null).build(), FULL)).isZero();
		assertThat(phIntervals(FULL.toBuilder().ph(null).build(), FULL)).isZero();
		assertThat(phIntervals(FULL, FULL.toBuilder().ph(null).build())).isZero();
		assertThat(phIntervals(FULL.toBuilder().ph(8.2, ReadingQualifier.ABOVE).build(), FULL)).isZero();
		assertThat(phIntervals(FULL, FULL.toBuilder().ph(6.8, ReadingQualifier.BELOW).build())).isZero();
	}

	private static int phIntervals(Readings first, Readings second) {
		return new PoolHistory(YARD, List.of(visit(0, first), visit(7, second))).forecast().phDrift().intervals();
	}

	/** A weekly refresh is an ordinary week; every other reason to come is not, whichever end it stands at. */
	@ParameterizedTest
	@EnumSource(Situation.class)
	void phOfUnusualWeeksIsNotLearnt(Situation situation) {
		int expected = (situation == Situation.ROUTINE || situation == Situation.WEEKLY_REFRESH) ? 1 : 0;
		Visit unusual = new Visit(7, FULL, situation, List.of(), null);
		assertThat(new PoolHistory(YARD, List.of(visit(0, FULL), unusual)).forecast().phDrift().intervals()).isEqualTo(expected);
		assertThat(new PoolHistory(YARD, List.of(unusual, visit(14, FULL))).forecast().phDrift().intervals()).isEqualTo(expected);
	}

	/** The use of a season is stated at the FC the pool is kept at: the middle of its range, then the mean of its last four weeks. */
	@Test
	void useOfASeasonIsStatedAtTheUsualChlorine() {
		PoolForecast none = new PoolHistory(YARD, List.of()).forecast();
		assertThat(none.seasonUse()).as("2 to 4 ppm").isCloseTo(none.demand().use(3).middle(), within(1e-9));
		RecordedDose chlorine = new RecordedDose(ProductKind.LIQUID_CHLORINE_125, 0.125, StrengthBasis.TRADE, 2000);
		List<Visit> visits = List.of(visit(0, fc(9), chlorine), visit(7, fc(9), chlorine), visit(14, fc(2), chlorine),
				visit(21, fc(1), chlorine), visit(28, fc(3), chlorine), visit(35, fc(2)));
		PoolForecast forecast = new PoolHistory(YARD, visits).forecast();
		// starts 14, 7, 6, 8 after the doses of the last four weeks, ends 2, 1, 3, 2
		double usual = (14 + 7 + 6 + 8 + 2 + 1 + 3 + 2) / 8.0;
		assertThat(forecast.seasonUse()).isCloseTo(forecast.demand().use(usual).middle(), within(1e-9));
	}

	private static Readings fc(double fc) {
		return FULL.toBuilder().fc(fc).build();
	}

	@Test
	void driftOfPhIsToldFromTheMiddleOfItsRange() {
		Reason rises = ph(YARD, 7.4, 7.8);
		assertThat(rises.code()).isEqualTo("outlook.ph-rises");
		assertThat(rises.args().get(1)).isEqualTo(Term.of(Level.PH, 7.5));
		Term.Difference change = (Term.Difference) rises.args().get(0);
		assertThat(change.amount()).isBetween(0.05, 0.6);
		assertThat(ph(pool(Sanitizer.TABLET_FEEDER), 7.6, 7.0).code()).isEqualTo("outlook.ph-falls");
		assertThat(((Term.Difference) ph(pool(Sanitizer.TABLET_FEEDER), 7.6, 7.0).args().get(0)).amount()).isPositive();
	}

	/** Six weeks, in each of which the pH went from one to the other. */
	private static Reason ph(PoolFacts pool, double from, double to) {
		List<Visit> visits = new ArrayList<>();
		for (int week = 0; week < 6; week++) {
			double back = from - to;
			RecordedDose correction = (back < 0) ? new RecordedDose(ProductKind.MURIATIC_3145, 0.3145, StrengthBasis.PURITY, 900)
					: new RecordedDose(ProductKind.SODA_ASH, 0.99, StrengthBasis.PURITY, 900);
			visits.add(visit(7L * week, FULL.toBuilder().ph(to).build(), correction));
		}
		return new PoolHistory(pool, visits).describe().get(1);
	}

	private static Optional<Water> after(Visit... visits) {
		return new PoolHistory(YARD, List.of(visits)).waterAfterLastVisit();
	}

	private static Visit visit(long day, Readings readings, RecordedDose... doses) {
		return new Visit(day, readings, Situation.ROUTINE, List.of(doses), null);
	}

	private static PoolFacts pool(Sanitizer sanitizer) {
		return PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, false, sanitizer);
	}

}
