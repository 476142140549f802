package org.meniscus.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;

import org.assertj.core.data.Offset;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.company.PasswordPolicy;
import org.meniscus.demo.DemoPool.ChlorineMethod;
import org.meniscus.demo.DemoPool.SeasonEvent;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;

class SimulatedSeasonTests {

	private static final DemoCalendar WEEKS = new DemoCalendar(LocalDate.of(2026, 11, 25));

	private static SimulatedSeason season(DemoPool pool, long seed) {
		return SimulatedSeason.of(pool, seed, WEEKS.workday(pool.workday()), WEEKS.first(), WEEKS.yesterday());
	}

	private static SimulatedSeason season(DemoPool pool) {
		return season(pool, DemoCompany.SEED);
	}

	private static List<DemoPool> with(ChlorineMethod habit) {
		return DemoPool.all().stream().filter(pool -> pool.chlorineMethod() == habit).toList();
	}

	private static DemoPool with(SeasonEvent special) {
		return DemoPool.all().stream().filter(pool -> pool.event() == special).findFirst().orElseThrow();
	}

	private static List<Double> cya(SimulatedSeason season) {
		return season.visits().stream().map(visit -> visit.readings().cya()).filter(java.util.Objects::nonNull).toList();
	}

	@Test
	void demoPasswordMeetsThePasswordRules() {
		assertThat(PasswordPolicy.findProblem(DemoPerson.PASSWORD, DemoPerson.COMPANY, DemoPerson.OWNER.name(), DemoPerson.OWNER.email()))
			.isEmpty();
	}

	@Test
	void demoHasFortyPoolsOfEveryKind() {
		List<DemoPool> pools = DemoPool.all();
		assertThat(pools).hasSize(40);
		assertThat(pools).extracting(DemoPool::chlorineMethod).contains(ChlorineMethod.values());
		assertThat(pools).extracting(DemoPool::sanitizer)
			.contains(Sanitizer.CHLORINE_BY_HAND, Sanitizer.TABLET_FEEDER, Sanitizer.SALT_CELL);
		assertThat(pools).extracting(DemoPool::language).contains("en", "es");
		assertThat(pools.stream().map(pool -> pool.technician() + "/" + pool.workday()).distinct()).hasSize(15);
	}

	@Test
	void seasonDependsOnlyOnSeedAndDays() {
		for (DemoPool pool : DemoPool.all()) {
			assertThat(season(pool)).isEqualTo(season(pool));
		}
		assertThat(season(DemoPool.all().get(0))).isNotEqualTo(season(DemoPool.all().get(0), DemoCompany.SEED + 1));
	}

	/** Every reading could be typed on the visit page, and no two of a visit contradict each other. */
	/** What is on file turns the water over, and a cell brings what the season's water gets from it, to half a step of its panel. */
	@Test
	void everyPoolHasEquipmentThatFitsItsWater() {
		for (DemoPool pool : DemoPool.all()) {
			DemoEquipment invented = new DemoEquipment(pool);
			SimulatedSeason season = season(pool);
			Equipment equipment = invented.onFile(invented.cellPercent(season.cellPerDay()));
			double litres = pool.volume().litres();
			assertThat(equipment.filter()).isNotNull();
			assertThat(Objects.requireNonNull(equipment.turnoverHours(litres))).as(pool.street()).isBetween(0.4, 24.0);
			assertThat(equipment.cell() != null).isEqualTo(pool.sanitizer() == Sanitizer.SALT_CELL);
			if (equipment.cell() != null) {
				double step = Objects.requireNonNull(equipment.cellGrams()) * 0.05 * 1000 / litres;
				assertThat(Objects.requireNonNull(equipment.cellSupply(litres, 25))).as(pool.street())
					.isCloseTo(season.cellPerDay(), Offset.offset(step / 2 + 1e-6));
			}
			assertThat(season.visits()).allMatch(visit -> visit.readings().site().filterKilopascals() != null);
		}
	}

	@Test
	void readingsArePossibleAndConsistent() {
		List<String> wrong = new ArrayList<>();
		for (DemoPool pool : DemoPool.all()) {
			Readings before = null;
			for (SimulatedVisit visit : season(pool).visits()) {
				for (ReadingFinding finding : ReadingCheck.check(visit.readings(), before)) {
					if (finding.kind() != ReadingFinding.Kind.UNLIKELY) {
						wrong.add(pool.client() + " " + visit.day() + " " + finding);
					}
				}
				before = visit.readings();
			}
		}
		assertThat(wrong).isEmpty();
	}

	/** Limits are those of residential practice, wide: chlorine 0 to 10, pH 7.0 to 8.4, alkalinity 50 to 180. Common practice, no source. */
	@Test
	void waterStaysWithinPlausibleLevels() {
		for (DemoPool pool : DemoPool.all()) {
			List<Readings> readings = season(pool).visits().stream().map(SimulatedVisit::readings).toList();
			double meanFc = readings.stream().mapToDouble(SimulatedSeasonTests::fc).average().orElseThrow();
			assertThat(meanFc).as(pool.client()).isBetween(0.7, 6.0);
			assertThat(readings).as(pool.client()).allSatisfy(reading -> {
				assertThat(fc(reading)).isBetween(0.0, 10.0);
				within(reading.ph(), 7.0, 8.4);
				within(reading.ta(), 50, 180);
				within(reading.celsius(), 8, 40);
			});
		}
	}

	private static void within(@Nullable Double value, double least, double most) {
		if (value != null) {
			assertThat(value).isBetween(least, most);
		}
	}

	private static double fc(Readings readings) {
		Double fc = readings.fc();
		return (fc != null) ? fc : Double.NaN;
	}

	@Test
	void stabilizerRisesInTabletPools() {
		List<String> high = new ArrayList<>();
		for (DemoPool pool : with(ChlorineMethod.TABLETS)) {
			List<Double> readings = cya(season(pool));
			double highest = readings.stream().max(Comparator.naturalOrder()).orElseThrow();
			assertThat(highest).as(pool.client()).isGreaterThan(readings.get(0) + 30);
			if (highest >= 100) {
				high.add(pool.client());
			}
		}
		assertThat(high).hasSizeGreaterThanOrEqualTo(4);
		assertThat(with(ChlorineMethod.TABLETS).stream()
			.filter(pool -> season(pool).visits().stream().anyMatch(visit -> visit.waterReplaced() != null)))
			.isNotEmpty();
	}

	@Test
	void hardnessRisesInCalciumHypochloritePools() {
		for (DemoPool pool : with(ChlorineMethod.CALHYPO)) {
			List<Double> readings = season(pool).visits().stream().map(visit -> visit.readings().ch()).filter(java.util.Objects::nonNull)
				.toList();
			assertThat(readings.get(readings.size() - 1)).as(pool.client()).isGreaterThan(readings.get(0) + 90);
		}
	}

	@Test
	void hiddenFloaterAndLeakShowInTheReadings() {
		SimulatedSeason floater = season(with(SeasonEvent.HIDDEN_FLOATER));
		List<Double> rising = cya(floater);
		assertThat(rising.get(rising.size() - 1)).isGreaterThan(rising.get(2) + 25);
		assertThat(floater.visits()
			.stream()
			.filter(visit -> visit.day().isAfter(WEEKS.first().plusWeeks(10)))
			.flatMap(visit -> visit.doses().stream())
			.map(SimulatedVisit.SimulatedDose::kind)).isNotEmpty()
			.doesNotContain(ProductKind.TRICHLOR_TAB, ProductKind.DICHLOR_56, ProductKind.CYA);
		SimulatedSeason leak = season(with(SeasonEvent.LEAK));
		assertThat(leak.visits()).anyMatch(visit -> "leak".equals(visit.toOffice()));
		assertThat(leak.visits().stream().filter(visit -> visit.doses().stream().anyMatch(dose -> dose.kind() == ProductKind.CYA)).count())
			.isGreaterThanOrEqualTo(2);
	}

	@Test
	void algaeBloomAfterMissedVisitIsClearedByShock() {
		SimulatedSeason season = season(with(SeasonEvent.ALGAE));
		List<SimulatedVisit> green = season.visits().stream().filter(visit -> visit.situation() == Situation.GREEN_ALGAE_LIGHT).toList();
		assertThat(green).isNotEmpty();
		assertThat(season.missed()).containsKey(green.get(0).day().minusWeeks(1));
		assertThat(green.get(0).doses()).extracting(SimulatedVisit.SimulatedDose::kind).containsOnly(ProductKind.CAL_HYPO_65);
		List<SimulatedVisit> extra = season.visits().stream().filter(SimulatedVisit::extra).toList();
		assertThat(extra).hasSizeBetween(2, 5);
		SimulatedVisit last = season.visits().get(season.visits().size() - 1);
		assertThat(last.situation()).isEqualTo(Situation.ROUTINE);
	}

	/** Doses keep to the most of one addition that a kind states, and never bring two chlorines that must not meet. */
	@Test
	void dosesStayWithinProductMaximaWithOnePhProductAtMost() {
		for (DemoPool pool : DemoPool.all()) {
			for (SimulatedVisit visit : season(pool).visits()) {
				Set<ProductKind> kinds = EnumSet.noneOf(ProductKind.class);
				for (SimulatedVisit.SimulatedDose dose : visit.doses()) {
					assertThat(kinds.add(dose.kind())).as("%s twice on %s", dose.kind(), visit.day()).isTrue();
					Double most = dose.kind().mostPerLitre();
					if (most != null) {
						assertThat(dose.amount()).as("%s %s", pool.client(), dose).isLessThanOrEqualTo(most * pool.volume().litres() + 0.1);
					}
				}
				assertThat(kinds.containsAll(Set.of(ProductKind.CAL_HYPO_65, ProductKind.TRICHLOR_TAB))).isFalse();
				assertThat(kinds.stream().filter(kind -> adjustsPh(kind, visit)).collect(Collectors.toSet())).as(visit.toString())
					.hasSizeLessThan(2);
			}
		}
	}

	/** Acid and base at the same visit would undo each other. */
	private static boolean adjustsPh(ProductKind kind, SimulatedVisit visit) {
		return kind == ProductKind.MURIATIC_3145 || kind == ProductKind.DRY_ACID_93 || kind == ProductKind.SODA_ASH;
	}

	@ParameterizedTest
	@ValueSource(strings = { "2026-11-23", "2026-11-25", "2026-11-27", "2026-11-28", "2026-11-29", "2027-02-28" })
	void everyTechnicianHasStopsOnAnyStartDay(LocalDate today) {
		DemoCalendar weeks = new DemoCalendar(today);
		Set<Integer> driving = new HashSet<>();
		for (DemoPool pool : DemoPool.all()) {
			if (weeks.workday(pool.workday()) == today.getDayOfWeek()) {
				driving.add(pool.technician());
			}
		}
		assertThat(driving).containsExactlyInAnyOrder(0, 1, 2);
		Set<DayOfWeek> days = new HashSet<>();
		for (int number = 1; number <= 5; number++) {
			days.add(weeks.workday(number));
		}
		assertThat(days).hasSize(5);
		assertThat(weeks.first().getDayOfWeek()).isEqualTo(DayOfWeek.MONDAY);
		for (DemoPool pool : DemoPool.all()) {
			SimulatedSeason season = SimulatedSeason.of(pool, DemoCompany.SEED, weeks.workday(pool.workday()), weeks.first(),
					weeks.yesterday());
			assertThat(season.visits().size() + season.missed().size()).isBetween(30, 36);
			assertThat(season.visits()).extracting(visit -> visit.readings().cyaQualifier()).contains(ReadingQualifier.EXACT);
		}
	}

}
