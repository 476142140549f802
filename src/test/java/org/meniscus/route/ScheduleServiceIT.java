package org.meniscus.route;

import static java.time.DayOfWeek.THURSDAY;
import static java.time.DayOfWeek.TUESDAY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.meniscus.route.RouteFixtures.weekly;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class ScheduleServiceIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	@Autowired
	ScheduleService schedules;

	RouteFixtures here;

	PersonId lena;

	PersonId tom;

	LocalDate today;

	@BeforeEach
	void company() {
		here = new RouteFixtures(companies, rows);
		lena = here.technician("Lena Ortiz");
		tom = here.technician("Tom Ashe");
		today = TenantContext.runAs(here.company, () -> route.today(here.company));
	}

	@Test
	void newScheduleGetsFourteenDaysOfStopsAndIsAddedOnce() {
		ScheduleService.AddSchedule add = weekly(here.pool(), lena, TUESDAY, today.minusYears(1));
		add(add);
		add(add);
		List<StopLine> ahead = ahead();
		assertThat(ahead).hasSize(2).allMatch(stop -> stop.plannedOn().getDayOfWeek() == TUESDAY && stop.technician().equals(lena));
		assertThat(ahead).allMatch(stop -> !stop.plannedOn().isBefore(today));
		assertThat(TenantContext.runAs(here.company, () -> schedules.all(here.company))).hasSize(1);
	}

	@Test
	void newScheduleGoesToEndOfDayUnlessPlaceIsGiven() {
		PoolId first = here.pool();
		PoolId second = here.pool();
		PoolId third = here.pool();
		assertThat(add(weekly(first, lena, TUESDAY, today)).place()).isEqualTo(1);
		assertThat(add(weekly(second, lena, TUESDAY, today)).place()).isEqualTo(2);
		assertThat(add(weekly(here.pool(), lena, THURSDAY, today)).place()).isEqualTo(1);
		ScheduleService.AddSchedule early = weekly(third, lena, TUESDAY, today);
		add(new ScheduleService.AddSchedule(early.id(), early.pool(), early.technician(), early.recurrence(), 1));
		assertThat(ahead().stream().filter(stop -> stop.plannedOn().getDayOfWeek() == TUESDAY).limit(3).map(StopLine::pool))
			.containsExactly(first, third, second);
	}

	@Test
	void changedWeekdayMovesPlannedStopsAndKeepsClosedOnes() {
		ServiceScheduleSummary schedule = add(weekly(here.pool(), lena, TUESDAY, today));
		StopLine first = ahead().get(0);
		TenantContext.runAs(here.company,
				() -> route.markMissed(here.company, new RouteService.MarkMissed(first.id(), first.version(), MissedReason.WEATHER, null)));
		change(schedule, lena, THURSDAY, null);
		assertThat(ahead().stream().filter(stop -> stop.state() == StopState.MISSED).map(StopLine::id)).containsExactly(first.id());
		assertThat(ahead().stream().filter(stop -> stop.state() == StopState.PLANNED)).hasSize(2)
			.allMatch(stop -> stop.plannedOn().getDayOfWeek() == THURSDAY);
	}

	@Test
	void newTechnicianTakesOverPlannedStopsExceptMovedOnes() {
		ServiceScheduleSummary schedule = add(weekly(here.pool(), lena, TUESDAY, today));
		StopLine byHand = ahead().get(0);
		LocalDate elsewhere = byHand.plannedOn().plusDays(1);
		TenantContext.runAs(here.company,
				() -> route.move(here.company, new RouteService.MoveStop(byHand.id(), byHand.version(), lena, elsewhere, null)));
		change(schedule, tom, TUESDAY, null);
		assertThat(ahead()).extracting(StopLine::technician).containsExactly(lena, tom);
		assertThat(ahead()).extracting(StopLine::plannedOn).containsExactly(elsewhere, byHand.plannedOn().plusWeeks(1));
	}

	@Test
	void endedScheduleGeneratesNoMoreStops() {
		ServiceScheduleSummary schedule = add(weekly(here.pool(), lena, TUESDAY, today.minusWeeks(3)));
		assertThat(ahead()).hasSize(2);
		change(schedule, lena, TUESDAY, today);
		assertThat(ahead()).allMatch(stop -> stop.plannedOn().equals(today));
		assertThat(
				TenantContext.<Integer>runAs(here.company, () -> route.generateStops(here.company, today.plusDays(1), today.plusDays(60))))
			.isZero();
	}

	@Test
	void secondOfTwoConcurrentEditsOfAScheduleIsRefused() {
		ServiceScheduleSummary seenByBoth = add(weekly(here.pool(), lena, TUESDAY, today));
		change(seenByBoth, tom, TUESDAY, null);
		assertThatThrownBy(() -> change(seenByBoth, lena, THURSDAY, null)).isInstanceOf(StaleVersion.class);
		assertThat(ahead()).hasSize(2).allMatch(stop -> stop.technician().equals(tom) && stop.plannedOn().getDayOfWeek() == TUESDAY);
	}

	@Test
	void onlyScheduleWithoutHistoryCanBeRemoved() {
		ServiceScheduleSummary fresh = add(weekly(here.pool(), lena, TUESDAY, today));
		assertThat(TenantContext.<Boolean>runAs(here.company, () -> schedules.remove(here.company, fresh.id(), fresh.version()))).isTrue();
		assertThat(ahead()).isEmpty();
		ServiceScheduleSummary used = add(weekly(here.pool(), lena, TUESDAY, today));
		StopLine first = ahead().get(0);
		TenantContext.runAs(here.company,
				() -> route.markMissed(here.company, new RouteService.MarkMissed(first.id(), first.version(), MissedReason.OTHER, null)));
		assertThat(TenantContext.<Boolean>runAs(here.company, () -> schedules.remove(here.company, used.id(), used.version()))).isFalse();
		assertThat(ahead()).hasSize(2);
	}

	@Test
	void inactiveTechnicianGetsNoNewScheduleButKeepsAnEndedOne() {
		ServiceScheduleSummary schedule = add(weekly(here.pool(), tom, TUESDAY, today.minusWeeks(1)));
		here.leaves(tom);
		assertThatThrownBy(() -> add(weekly(here.pool(), tom, TUESDAY, today))).isInstanceOf(TechnicianInactive.class);
		assertThat(TenantContext.runAs(here.company, () -> schedules.schedule(here.company, schedule.id())).technicianActive()).isFalse();
		change(schedule, tom, TUESDAY, today.minusDays(1));
		assertThat(ahead()).isEmpty();
	}

	@Test
	void scheduleOfAnotherCompanyIsNotFound() {
		ServiceScheduleSummary schedule = add(weekly(here.pool(), lena, TUESDAY, today));
		RouteFixtures elsewhere = new RouteFixtures(companies, rows);
		PersonId foreigner = elsewhere.technician("Ann Vale");
		assertThatThrownBy(() -> TenantContext.runAs(elsewhere.company, () -> schedules.schedule(elsewhere.company, schedule.id())))
			.isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.runAs(elsewhere.company, () -> schedules.of(elsewhere.company, schedule.pool())))
			.isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.runAs(elsewhere.company, () -> schedules.change(elsewhere.company,
				new ScheduleService.ChangeSchedule(schedule.id(), schedule.version(), foreigner, schedule.recurrence(), null))))
			.isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.runAs(elsewhere.company, () -> {
			schedules.remove(elsewhere.company, schedule.id(), schedule.version());
		})).isInstanceOf(NotFound.class);
	}

	private ServiceScheduleSummary add(ScheduleService.AddSchedule command) {
		return TenantContext.runAs(here.company, () -> schedules.add(here.company, command));
	}

	private void change(ServiceScheduleSummary schedule, PersonId technician, DayOfWeek weekday, @Nullable LocalDate until) {
		TenantContext.runAs(here.company, () -> {
			schedules.change(here.company, new ScheduleService.ChangeSchedule(schedule.id(), schedule.version(), technician,
					new Recurrence(Frequency.WEEKLY, weekday, null, schedule.recurrence().startsOn(), until), schedule.place()));
		});
	}

	/** The stops of the coming three weeks, by day and place. */
	private List<StopLine> ahead() {
		return java.util.stream.IntStream.range(0, 4)
			.mapToObj(today::plusWeeks)
			.flatMap(day -> TenantContext.runAs(here.company, () -> route.week(here.company, day)).stops().stream())
			.filter(stop -> !stop.plannedOn().isBefore(today))
			.toList();
	}

}
