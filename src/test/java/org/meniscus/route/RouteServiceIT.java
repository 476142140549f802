package org.meniscus.route;

import static java.time.DayOfWeek.FRIDAY;
import static java.time.DayOfWeek.MONDAY;
import static java.time.DayOfWeek.TUESDAY;
import static java.time.DayOfWeek.WEDNESDAY;
import static java.time.temporal.TemporalAdjusters.next;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.meniscus.route.RouteFixtures.weekly;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class RouteServiceIT {

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

	/** Monday of the week after next: beyond the 14 days that a new plan is made ahead for. */
	LocalDate monday;

	@BeforeEach
	void company() {
		here = new RouteFixtures(companies, rows);
		lena = here.technician("Lena Ortiz");
		tom = here.technician("Tom Ashe");
		today = TenantContext.runAs(here.company, () -> route.today(here.company));
		monday = today.plusWeeks(2).with(next(MONDAY));
	}

	@Test
	void generatingAWeekAgainAddsNothing() {
		add(weekly(here.pool(), lena, TUESDAY, today.minusWeeks(1)));
		add(weekly(here.pool(), lena, TUESDAY, today.minusWeeks(1)));
		add(new ScheduleService.AddSchedule(new ServiceScheduleId(UUID.randomUUID()), here.pool(), tom,
				new Recurrence(Frequency.TWICE_WEEKLY, MONDAY, FRIDAY, today, null), null));
		assertThat(week().missingStops()).isEqualTo(4);
		assertThat(make()).isEqualTo(4);
		assertThat(make()).isZero();
		assertThat(week().missingStops()).isZero();
		assertThat(week().stops()).hasSize(4).allMatch(stop -> stop.state() == StopState.PLANNED);
		assertThat(clients(lena, monday.plusDays(1))).containsExactly("Client 1", "Client 2");
		assertThat(clients(tom, monday)).containsExactly("Client 3");
		assertThat(clients(tom, monday.plusDays(4))).containsExactly("Client 3");
	}

	@Test
	void twoReplicasGeneratingTheSameWeekGenerateItOnce() throws Exception {
		for (int i = 0; i < 8; i++) {
			add(weekly(here.pool(), lena, TUESDAY, today));
		}
		ExecutorService replicas = Executors.newFixedThreadPool(4);
		try {
			List<Callable<Integer>> work = List.of(this::make, this::make, this::make, this::make);
			int made = 0;
			for (Future<Integer> result : replicas.invokeAll(work)) {
				made += result.get();
			}
			assertThat(made).isEqualTo(8);
		}
		finally {
			replicas.shutdownNow();
		}
		assertThat(week().stops()).hasSize(8);
		assertThat(week().stops().stream().map(StopLine::place)).containsExactly(1, 2, 3, 4, 5, 6, 7, 8);
	}

	@Test
	void stopMovedToAnotherDayIsNotGeneratedAgain() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		move(only(), tom, monday.plusDays(3), null);
		assertThat(make()).isZero();
		assertThat(only().plannedOn()).isEqualTo(monday.plusDays(3));
		assertThat(only().technician()).isEqualTo(tom);
		assertThat(only().moved()).isTrue();
	}

	@Test
	void placesHaveNoGapsOnBothDaysAfterAMove() {
		for (int i = 0; i < 4; i++) {
			add(weekly(here.pool(), lena, TUESDAY, today));
		}
		add(weekly(here.pool(), tom, WEDNESDAY, today));
		make();
		move(stop("Client 4"), lena, monday.plusDays(1), 1);
		assertThat(clients(lena, monday.plusDays(1))).containsExactly("Client 4", "Client 1", "Client 2", "Client 3");
		move(stop("Client 2"), tom, monday.plusDays(2), 1);
		assertThat(clients(lena, monday.plusDays(1))).containsExactly("Client 4", "Client 1", "Client 3");
		assertThat(clients(tom, monday.plusDays(2))).containsExactly("Client 2", "Client 5");
		assertThat(positions(lena, monday.plusDays(1))).containsExactly(1, 2, 3);
		assertThat(positions(tom, monday.plusDays(2))).containsExactly(1, 2);
	}

	@Test
	void secondMoveOfTheSameStopVersionIsRefused() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		StopLine seenByBoth = only();
		move(seenByBoth, tom, monday.plusDays(2), null);
		assertThatThrownBy(() -> move(seenByBoth, lena, monday.plusDays(4), null)).isInstanceOf(StaleVersion.class);
		assertThat(only().technician()).isEqualTo(tom);
		assertThat(only().plannedOn()).isEqualTo(monday.plusDays(2));
	}

	@Test
	void onlyOneOfTwoSimultaneousMovesSucceeds() throws Exception {
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		StopLine seen = only();
		ExecutorService offices = Executors.newFixedThreadPool(2);
		try {
			Callable<Boolean> first = () -> moved(seen, monday.plusDays(2));
			Callable<Boolean> second = () -> moved(seen, monday.plusDays(3));
			List<Boolean> outcomes = new ArrayList<>();
			for (Future<Boolean> result : offices.invokeAll(List.of(first, second))) {
				outcomes.add(result.get());
			}
			assertThat(outcomes).containsExactlyInAnyOrder(true, false);
			assertThat(only().plannedOn()).isEqualTo(monday.plusDays(outcomes.get(0) ? 2 : 3));
		}
		finally {
			offices.shutdownNow();
		}
	}

	@Test
	void changedPlaceKeepsTheVersionOfAStop() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		StopLine first = stop("Client 1");
		move(stop("Client 2"), lena, monday.plusDays(1), 1);
		move(first, lena, monday.plusDays(3), null);
		assertThat(stop("Client 1").plannedOn()).isEqualTo(monday.plusDays(3));
	}

	@Test
	void missedStopStaysMissedUntilUndone() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		tenant(() -> route.markMissed(here.company,
				new RouteService.MarkMissed(only().id(), only().version(), MissedReason.DOG, "loose in the yard")));
		assertThat(only().state()).isEqualTo(StopState.MISSED);
		assertThat(only().missedReason()).isEqualTo(MissedReason.DOG);
		assertThat(only().missedNote()).isEqualTo("loose in the yard");
		assertThatThrownBy(() -> move(only(), lena, monday, null)).isInstanceOf(StopClosed.class);
		tenant(() -> route.undoMissed(here.company, only().id(), only().version()));
		assertThat(only().state()).isEqualTo(StopState.PLANNED);
		assertThat(only().missedReason()).isNull();
		move(only(), lena, monday, null);
		assertThat(only().plannedOn()).isEqualTo(monday);
	}

	@Test
	void doneStopCannotBeMovedOrMarkedMissed() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		here.done(only());
		assertThatThrownBy(() -> move(only(), lena, monday, null)).isInstanceOf(StopClosed.class);
		assertThatThrownBy(() -> tenant(
				() -> route.markMissed(here.company, new RouteService.MarkMissed(only().id(), only().version(), MissedReason.SICK, null))))
			.isInstanceOf(StopClosed.class);
		assertThatThrownBy(() -> tenant(() -> route.undoMissed(here.company, only().id(), only().version())))
			.isInstanceOf(StopClosed.class);
		assertThat(only().state()).isEqualTo(StopState.DONE);
		assertThat(only().plannedOn()).isEqualTo(monday.plusDays(1));
	}

	@Test
	void extraStopIsAddedOnceAndCanBeRemoved() {
		PoolId pool = here.pool();
		RouteService.AddExtraStop extra = new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), pool, lena, monday);
		tenant(() -> route.addExtra(here.company, extra));
		tenant(() -> route.addExtra(here.company, extra));
		assertThat(only().extra()).isTrue();
		tenant(() -> route.removeExtra(here.company, only().id(), only().version()));
		assertThat(week().stops()).isEmpty();
		add(weekly(pool, lena, TUESDAY, today));
		make();
		assertThatThrownBy(() -> tenant(() -> route.removeExtra(here.company, only().id(), only().version()))).isInstanceOf(NotFound.class);
	}

	@Test
	void inactiveTechnicianGetsNoNewStopsButIsShownWithOpenOnes() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		add(weekly(here.pool(), tom, TUESDAY, today));
		make();
		here.leaves(tom);
		assertThatThrownBy(() -> move(stop("Client 1"), tom, monday, null)).isInstanceOf(TechnicianInactive.class);
		assertThat(week().technicians()).extracting(PersonSummary::name, PersonSummary::active)
			.containsExactly(org.assertj.core.groups.Tuple.tuple("Lena Ortiz", true),
					org.assertj.core.groups.Tuple.tuple("Tom Ashe", false));
		move(stop("Client 2"), tom, monday.plusDays(3), null);
		move(stop("Client 2"), lena, monday.plusDays(3), null);
		assertThat(week().technicians()).extracting(PersonSummary::name).containsExactly("Lena Ortiz");
	}

	@Test
	void archivedPoolHasNoPlannedStopsUntilItIsRestored() {
		PoolId pool = here.pool();
		add(weekly(pool, lena, TUESDAY, today));
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		here.archive(pool);
		assertThat(clients(lena, monday.plusDays(1))).containsExactly("Client 2");
		assertThat(only().place()).isEqualTo(1);
		assertThat(TenantContext.<Integer>runAs(here.company,
				() -> route.generateStops(here.company, monday.plusWeeks(1), monday.plusWeeks(1).plusDays(6))))
			.isEqualTo(1);
		here.restore(pool);
		assertThat(clients(lena, monday.plusDays(1))).containsExactly("Client 1", "Client 2");
	}

	@Test
	void stopsPoolsAndPeopleOfAnotherCompanyAreNotFound() {
		add(weekly(here.pool(), lena, TUESDAY, today));
		make();
		StopLine own = only();
		RouteFixtures elsewhere = new RouteFixtures(companies, rows);
		PersonId foreigner = elsewhere.technician("Ann Vale");
		PoolId foreignPool = elsewhere.pool();
		assertThatThrownBy(() -> TenantContext.runAs(elsewhere.company, () -> route.move(elsewhere.company,
				new RouteService.MoveStop(own.id(), own.version(), foreigner, monday, null))))
			.isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.runAs(elsewhere.company, () -> route.stop(elsewhere.company, own.id())))
			.isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> move(own, foreigner, monday, null)).isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> tenant(
				() -> route.addExtra(here.company,
						new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), foreignPool, lena, monday))))
			.isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> add(weekly(foreignPool, lena, TUESDAY, today))).isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> add(weekly(here.pool(), foreigner, TUESDAY, today))).isInstanceOf(NotFound.class);
		assertThat(only()).isEqualTo(own);
	}

	private boolean moved(StopLine stop, LocalDate day) {
		try {
			move(stop, lena, day, null);
			return true;
		}
		catch (StaleVersion ex) {
			return false;
		}
	}

	private void move(StopLine stop, PersonId technician, LocalDate day, @Nullable Integer place) {
		tenant(() -> route.move(here.company, new RouteService.MoveStop(stop.id(), stop.version(), technician, day, place)));
	}

	private void tenant(Runnable work) {
		TenantContext.runAs(here.company, work);
	}

	private ServiceScheduleSummary add(ScheduleService.AddSchedule command) {
		return TenantContext.runAs(here.company, () -> schedules.add(here.company, command));
	}

	private int make() {
		return TenantContext.<Integer>runAs(here.company, () -> route.generateStops(here.company, monday, monday.plusDays(6)));
	}

	private Week week() {
		return TenantContext.runAs(here.company, () -> route.week(here.company, monday));
	}

	private StopLine only() {
		assertThat(week().stops()).hasSize(1);
		return week().stops().get(0);
	}

	private StopLine stop(String client) {
		return week().stops().stream().filter(stop -> stop.clientName().equals(client)).findFirst().orElseThrow();
	}

	private List<String> clients(PersonId technician, LocalDate day) {
		return week().stops()
			.stream()
			.filter(stop -> stop.technician().equals(technician) && stop.plannedOn().equals(day))
			.map(StopLine::clientName)
			.toList();
	}

	private List<Integer> positions(PersonId technician, LocalDate day) {
		return here.in(() -> rows
			.sql("""
				SELECT position FROM stop WHERE company_id = :company AND technician_id = :technician AND planned_on = :day ORDER BY position""")
			.param("company", here.company.value())
			.param("technician", technician.value())
			.param("day", day)
			.query(Integer.class)
			.list());
	}

}
