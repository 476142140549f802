package org.meniscus.route;

import static java.time.DayOfWeek.TUESDAY;
import static java.time.temporal.TemporalAdjusters.next;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.meniscus.route.RouteFixtures.weekly;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class DayReassignmentServiceIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	@Autowired
	ScheduleService schedules;

	@Autowired
	DayReassignmentService wholeDay;

	RouteFixtures here;

	PersonId lena;

	PersonId tom;

	/** A Tuesday within the 14 days made ahead; another one follows it within them. */
	LocalDate tuesday;

	@BeforeEach
	void threeStopsOnEveryTuesday() {
		here = new RouteFixtures(companies, rows);
		lena = here.technician("Lena Ortiz");
		tom = here.technician("Tom Ashe");
		LocalDate today = TenantContext.runAs(here.company, () -> route.today(here.company));
		tuesday = today.minusDays(1).with(next(TUESDAY));
		for (int i = 0; i < 3; i++) {
			TenantContext.runAs(here.company, () -> {
				schedules.add(here.company, weekly(here.pool(), lena, TUESDAY, today));
			});
		}
	}

	@Test
	void stopsOfASickTechnicianGoToTheEndOfAnothersDay() {
		extra(tom, tuesday);
		here.done(stops(lena, tuesday).get(0));
		assertThat(handOver(lena, tuesday, tom, tuesday)).isEqualTo(2);
		assertThat(clients(lena, tuesday)).containsExactly("Client 1");
		assertThat(clients(tom, tuesday)).containsExactly("Client 4", "Client 2", "Client 3");
		assertThat(handOver(lena, tuesday, tom, tuesday)).isZero();
	}

	@Test
	void stopsOfAHolidayKeepTheirOrderOnAnotherDay() {
		assertThat(handOver(lena, tuesday, lena, tuesday.plusDays(1))).isEqualTo(3);
		assertThat(clients(lena, tuesday)).isEmpty();
		assertThat(clients(lena, tuesday.plusDays(1))).containsExactly("Client 1", "Client 2", "Client 3");
	}

	@Test
	void unknownOrInactiveTechnicianGetsNoDay() {
		here.leaves(tom);
		assertThatThrownBy(() -> handOver(lena, tuesday, tom, tuesday)).isInstanceOf(TechnicianInactive.class);
		PersonId foreigner = new RouteFixtures(companies, rows).technician("Ann Vale");
		assertThatThrownBy(() -> handOver(lena, tuesday, foreigner, tuesday)).isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> handOver(foreigner, tuesday, lena, tuesday)).isInstanceOf(NotFound.class);
		assertThat(clients(lena, tuesday)).hasSize(3);
	}

	@Test
	void appliedOrderHoldsForFollowingWeeks() {
		extra(lena, tuesday.plusWeeks(1));
		StopLine last = stops(lena, tuesday).get(2);
		TenantContext.runAs(here.company,
				() -> route.move(here.company, new RouteService.MoveStop(last.id(), last.version(), lena, tuesday, 1)));
		assertThat(clients(lena, tuesday.plusWeeks(1))).containsExactly("Client 1", "Client 2", "Client 3", "Client 4");
		assertThat(TenantContext.<Integer>runAs(here.company, () -> wholeDay.applyOrderToSchedules(here.company, lena, tuesday)))
			.isEqualTo(3);
		assertThat(clients(lena, tuesday.plusWeeks(1))).containsExactly("Client 3", "Client 1", "Client 2", "Client 4");
		TenantContext.runAs(here.company, () -> {
			route.generateStops(here.company, tuesday.plusWeeks(3), tuesday.plusWeeks(3));
		});
		assertThat(clients(lena, tuesday.plusWeeks(3))).containsExactly("Client 3", "Client 1", "Client 2");
	}

	private void extra(PersonId technician, LocalDate day) {
		TenantContext.runAs(here.company,
				() -> route.addExtra(here.company,
						new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), here.pool(), technician, day)));
	}

	private int handOver(PersonId from, LocalDate day, PersonId to, LocalDate toDay) {
		return TenantContext.<Integer>runAs(here.company, () -> wholeDay.reassign(here.company, from, day, to, toDay));
	}

	private List<StopLine> stops(PersonId technician, LocalDate day) {
		return TenantContext.runAs(here.company, () -> route.week(here.company, day))
			.stops()
			.stream()
			.filter(stop -> stop.technician().equals(technician) && stop.plannedOn().equals(day))
			.toList();
	}

	private List<String> clients(PersonId technician, LocalDate day) {
		return stops(technician, day).stream().map(StopLine::clientName).toList();
	}

}
