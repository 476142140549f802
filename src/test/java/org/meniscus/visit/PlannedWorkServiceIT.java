package org.meniscus.visit;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.platform.TenantContext;
import org.meniscus.report.SeasonFixture;
import org.meniscus.report.SeasonFixtures;
import org.meniscus.support.IntegrationTest;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.visit.PlannedWork.PlannedAction;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.product.ProductKind;
import org.springframework.beans.factory.annotation.Autowired;

/** Planned work is done by a visit that records it, by no other, and no longer when a correction takes the record back. */
@IntegrationTest
class PlannedWorkServiceIT {

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	VisitService visits;

	@Autowired
	PlannedWorkService work;

	SeasonFixture season;

	PoolId pool;

	LocalDate today;

	@BeforeEach
	void poolOfACompany() {
		season = seasons.newSeason();
		today = season.today;
		pool = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.CHLORINE_BY_HAND);
	}

	@Test
	void drainIsDoneByVisitThatReplacedNearlyAsMuchWater() {
		PlannedAction drain = plan(new PlannedAction.DrainAndRefill(0.4));
		visit(today, 0.05);
		visit(today, null, season.dose(ProductKind.LIQUID_CHLORINE_125, 900));
		assertThat(open()).as("little water, no water").containsExactly(drain);
		// four fifths of 40 %
		visit(today, 0.32);
		assertThat(open()).isEmpty();
	}

	@Test
	void visitBeforeTheWorkWasPlannedDoesNotCloseIt() {
		PlannedAction drain = plan(new PlannedAction.DrainAndRefill(0.4));
		visit(today.minusDays(1), 0.4);
		assertThat(open()).containsExactly(drain);
	}

	@Test
	void chlorineSwitchIsDoneByVisitUsingOnlyThatChlorine() {
		PlannedAction liquid = plan(new PlannedAction.ChlorineSwitch(DoseKind.LIQUID_CHLORINE));
		visit(today, null, season.dose(ProductKind.MURIATIC_3145, 500));
		visit(today, null, season.dose(ProductKind.TRICHLOR_TAB, 400));
		visit(today, null, season.dose(ProductKind.LIQUID_CHLORINE_125, 900), season.dose(ProductKind.TRICHLOR_TAB, 200));
		assertThat(open()).as("no chlorine, tablets, tablets beside it").containsExactly(liquid);
		visit(today, null, season.dose(ProductKind.MURIATIC_3145, 500), season.dose(ProductKind.LIQUID_CHLORINE_125, 900));
		assertThat(open()).isEmpty();
	}

	@Test
	void visitClosesOnlyTheWorkItRecords() {
		PlannedAction drain = plan(new PlannedAction.DrainAndRefill(0.4));
		plan(new PlannedAction.ChlorineSwitch(DoseKind.CALCIUM_HYPOCHLORITE));
		visit(today, null, season.dose(ProductKind.CAL_HYPO_65, 600));
		assertThat(open()).containsExactly(drain);
	}

	@Test
	void correctionThatRemovesTheRecordReopensTheWork() {
		PlannedAction drain = plan(new PlannedAction.DrainAndRefill(0.4));
		PlannedAction calcium = plan(new PlannedAction.ChlorineSwitch(DoseKind.CALCIUM_HYPOCHLORITE));
		VisitRecord visit = visit(today, 0.4, season.dose(ProductKind.CAL_HYPO_65, 600));
		assertThat(open()).isEmpty();
		visit = correct(visit, 0.4);
		assertThat(open()).as("the dose is out").containsExactly(calcium);
		visit = correct(visit, null);
		assertThat(open()).as("the water too").containsExactlyInAnyOrder(drain, calcium);
		correct(visit, 0.4, season.dose(ProductKind.CAL_HYPO_65, 600));
		assertThat(open()).as("both back in").isEmpty();
	}

	@Test
	void unrelatedCorrectionLeavesWorkDone() {
		plan(new PlannedAction.DrainAndRefill(0.4));
		VisitRecord visit = visit(today, 0.4);
		correct(visit, 0.4, season.dose(ProductKind.LIQUID_CHLORINE_125, 900));
		assertThat(open()).isEmpty();
	}

	@Test
	void unrelatedCorrectionDoesNotCloseWorkPlannedAfterTheVisit() {
		VisitRecord visit = visit(today, 0.4);
		PlannedAction drain = plan(new PlannedAction.DrainAndRefill(0.4));
		correct(visit, 0.4, season.dose(ProductKind.LIQUID_CHLORINE_125, 900));
		assertThat(open()).containsExactly(drain);
	}

	@Test
	void workRecordedByAnotherVisitTooStaysDone() {
		plan(new PlannedAction.DrainAndRefill(0.4));
		VisitRecord first = visit(today, 0.4);
		visit(today, 0.5);
		correct(first, null);
		assertThat(open()).isEmpty();
	}

	@Test
	void workClosedByHandIsNotReopenedByACorrection() {
		UUID id = UUID.randomUUID();
		TenantContext.runAs(season.company, () -> work.plan(season.office(), id, pool, new PlannedAction.DrainAndRefill(0.4)));
		VisitRecord visit = visit(today, 0.1);
		TenantContext.runAs(season.company, () -> work.markDone(season.technician.user(), pool, id));
		correct(visit, null);
		assertThat(open()).isEmpty();
	}

	@Test
	void workReplacedByNewerWorkIsNotReopened() {
		plan(new PlannedAction.DrainAndRefill(0.4));
		VisitRecord visit = visit(today, 0.4);
		PlannedAction newer = plan(new PlannedAction.DrainAndRefill(0.5));
		correct(visit, null);
		assertThat(open()).containsExactly(newer);
	}

	private PlannedAction plan(PlannedAction task) {
		TenantContext.runAs(season.company, () -> work.plan(season.office(), UUID.randomUUID(), pool, task));
		return task;
	}

	private List<PlannedAction> open() {
		return TenantContext.runAs(season.company, () -> work.open(season.company, pool)).stream().map(PlannedWork::action).toList();
	}

	private VisitRecord visit(LocalDate day, @Nullable Double waterReplaced, NewDose... doses) {
		return TenantContext.runAs(season.company,
				() -> visits.submit(season.company,
						new NewVisit(new VisitId(UUID.randomUUID()), pool, season.technician.user().person(), null,
								day.atTime(LocalTime.NOON).atZone(SeasonFixture.ZONE).toInstant(), null, Situation.ROUTINE,
								Readings.builder().fc(2.0).ph(7.5).build(), waterReplaced, Arrays.asList(doses), List.of(), null, null,
								null,
								List.of())));
	}

	private VisitRecord correct(VisitRecord visit, @Nullable Double waterReplaced, NewDose... doses) {
		return TenantContext.runAs(season.company,
				() -> visits.correct(season.company, visit.technician(), visit.id(), visit.version(),
						new VisitService.Correction(visit.situation(), visit.readings(), waterReplaced, Arrays.asList(doses), visit.tasks(),
								null, null),
						"read the wrong line"));
	}

}
