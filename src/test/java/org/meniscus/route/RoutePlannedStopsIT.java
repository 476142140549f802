package org.meniscus.route;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.route.RouteFixtures.weekly;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.NewVisit;
import org.meniscus.visit.PlannedStop;
import org.meniscus.visit.PlannedStops;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitService;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class RoutePlannedStopsIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	@Autowired
	ScheduleService schedules;

	@Autowired
	VisitService visits;

	@Autowired
	PlannedStops planned;

	@Autowired
	Clock clock;

	RouteFixtures here;

	SignedInUser lena;

	SignedInUser tom;

	LocalDate today;

	PoolId pool;

	@BeforeEach
	void company() {
		here = new RouteFixtures(companies, rows);
		lena = here.driver("Lena Ortiz").user();
		tom = here.driver("Tom Ashe").user();
		pool = here.pool();
		today = TenantContext.runAs(here.company, () -> route.today(here.company));
		TenantContext.runAs(here.company, () -> {
			schedules.add(here.company, weekly(pool, lena.person(), today.getDayOfWeek(), today));
		});
	}

	@Test
	void submittedVisitMarksItsStopDoneOnce() {
		StopLine stop = todays().get(0);
		VisitId visit = new VisitId(UUID.randomUUID());
		NewVisit sent = visit(visit, stop.id().value());
		TenantContext.runAs(here.company, () -> visits.submit(here.company, sent));
		assertThat(todays().get(0).state()).isEqualTo(StopState.DONE);
		assertThat(todays().get(0).visit()).isEqualTo(visit.value());
		long version = todays().get(0).version();
		TenantContext.runAs(here.company, () -> visits.submit(here.company, sent));
		assertThat(todays().get(0).version()).isEqualTo(version);
	}

	@Test
	void lateVisitMarksMissedStopDone() {
		StopLine stop = todays().get(0);
		TenantContext.runAs(here.company, () -> route.markMissed(here.company,
				new RouteService.MarkMissed(stop.id(), stop.version(), MissedReason.WEATHER, "storm")));
		TenantContext.runAs(here.company, () -> visits.submit(here.company, visit(new VisitId(UUID.randomUUID()), stop.id().value())));
		assertThat(todays().get(0).state()).isEqualTo(StopState.DONE);
		assertThat(todays().get(0).missedReason()).isNull();
		assertThat(todays().get(0).missedNote()).isNull();
	}

	@Test
	void visitWithoutStopMarksStopOfThatDayDone() {
		TenantContext.runAs(here.company, () -> visits.submit(here.company, visit(new VisitId(UUID.randomUUID()), null)));
		assertThat(todays()).extracting(StopLine::state).containsExactly(StopState.DONE);
		assertThat(stops(today.plusWeeks(1))).extracting(StopLine::state).containsExactly(StopState.PLANNED);
	}

	@Test
	void visitWithoutStopLeavesStopsOfOtherPoolsPlanned() {
		PoolId other = here.pool();
		TenantContext.runAs(here.company, () -> route.addExtra(here.company,
				new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), other, tom.person(), today)));
		TenantContext.runAs(here.company, () -> visits.submit(here.company, visit(new VisitId(UUID.randomUUID()), null)));
		assertThat(todays().stream().filter(stop -> stop.pool().equals(other)).map(StopLine::state)).containsExactly(StopState.PLANNED);
	}

	@Test
	void nextVisitIsTheNextStopOrTheNextScheduledDay() {
		assertThat(next(today.minusDays(1))).isEqualTo(today);
		assertThat(next(today)).isEqualTo(today.plusWeeks(1));
		// beyond what is made
		assertThat(next(today.plusWeeks(5))).isEqualTo(today.plusWeeks(6));
		StopLine ahead = stops(today.plusWeeks(1)).get(0);
		TenantContext.runAs(here.company, () -> route.move(here.company,
				new RouteService.MoveStop(ahead.id(), ahead.version(), lena.person(), today.plusDays(4), null)));
		assertThat(next(today)).isEqualTo(today.plusDays(4));
		assertThat(next(today.plusDays(4))).isEqualTo(today.plusWeeks(2));
		assertThat(TenantContext.runAs(here.company, () -> planned.nextAfter(here.company, here.pool(), today))).isEmpty();
	}

	@Test
	void technicianMayVisitOnlyPoolsWhereHeHasAStop() {
		assertThat(mayVisit(lena, pool)).isTrue();
		assertThat(mayVisit(tom, pool)).isFalse();
		assertThat(mayVisit(here.owner.user(), pool)).isTrue();
		assertThat(mayVisit(lena, here.pool())).isFalse();
		StopLine stop = todays().get(0);
		PlannedStop found = TenantContext.runAs(here.company, () -> planned.find(here.company, stop.id().value())).orElseThrow();
		assertThat(found).isEqualTo(new PlannedStop(stop.id().value(), pool, lena.person(), today));
		RouteFixtures elsewhere = new RouteFixtures(companies, rows);
		assertThat(TenantContext.runAs(elsewhere.company, () -> planned.find(elsewhere.company, stop.id().value()))).isEmpty();
	}

	private boolean mayVisit(SignedInUser user, PoolId where) {
		return TenantContext.<Boolean>runAs(here.company, () -> planned.mayVisit(user, where, today));
	}

	private LocalDate next(LocalDate day) {
		return TenantContext.runAs(here.company, () -> planned.nextAfter(here.company, pool, day)).orElseThrow();
	}

	private NewVisit visit(VisitId id, @Nullable UUID stop) {
		PersonId technician = lena.person();
		return new NewVisit(id, pool, technician, stop, clock.instant(), null, Situation.ROUTINE, Readings.builder().fc(2.0).build(), null,
				List.of(), List.of(), null, null, null, List.of());
	}

	private List<StopLine> todays() {
		return stops(today);
	}

	private List<StopLine> stops(LocalDate day) {
		return TenantContext.runAs(here.company, () -> route.week(here.company, day))
			.stops()
			.stream()
			.filter(stop -> stop.plannedOn().equals(day))
			.toList();
	}

}
