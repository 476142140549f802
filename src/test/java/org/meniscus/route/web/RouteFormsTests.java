package org.meniscus.route.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.never;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.SecurityConfiguration;
import org.meniscus.route.RouteService;
import org.meniscus.route.ScheduleService;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;
import org.meniscus.route.StopState;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.Volume;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.webmvc.test.autoconfigure.WebMvcTest;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.bean.override.mockito.MockitoBean;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResultAssert;

/** What the forms of the route pages refuse, and how they say so; nothing of it asks the database. */
@WebMvcTest({ StopController.class, ScheduleController.class })
@Import({ SecurityConfiguration.class, RouteOptions.class })
class RouteFormsTests {

	private static final LocalDate TODAY = LocalDate.of(2026, 11, 25);

	private static final CompanyId COMPANY = new CompanyId(UUID.randomUUID());

	private static final SignedInUser OWNER = new SignedInUser(COMPANY, new PersonId(UUID.randomUUID()), Role.OWNER, "Mae Linden");

	private static final PersonSummary LENA = new PersonSummary(new PersonId(UUID.randomUUID()), "Lena Ortiz", "lena@pools.example",
			Role.TECHNICIAN, true,
			true);

	private static final PoolId POOL = new PoolId(UUID.randomUUID());

	private static final StopLine STOP = new StopLine(new StopId(UUID.randomUUID()), 3, POOL, "Pool 1", "Rowan Hale", "5 Juniper Lane",
			"Alder Falls", "85001", LENA.id(), TODAY, 1, TODAY, StopState.PLANNED, null, null, null);

	@Autowired
	MockMvcTester mvc;

	@MockitoBean
	RouteService route;

	@MockitoBean
	ScheduleService schedules;

	@MockitoBean
	ClientService clients;

	@MockitoBean
	CompanyService companies;

	@MockitoBean
	UuidGenerator ids;

	@BeforeEach
	void oneStopToday() {
		when(companies.settings(COMPANY)).thenReturn(TestCompanies.settings(COMPANY));
		when(route.today(COMPANY)).thenReturn(TODAY);
		when(route.technicians(COMPANY)).thenReturn(List.of(LENA));
		when(route.technician(COMPANY, LENA.id())).thenReturn(Optional.of(LENA));
		when(route.stop(COMPANY, STOP.id())).thenReturn(STOP);
		when(clients.pool(COMPANY, POOL)).thenReturn(new PoolSummary(POOL, new ClientId(UUID.randomUUID()), "Rowan Hale", "Pool 1",
				"5 Juniper Lane", "Alder Falls", "85001", null, null, PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED,
						BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.CHLORINE_BY_HAND),
				"", false));
	}

	@Test
	void unreadableMoveIsRefusedWithItsFieldsMarkedAndItsInputKept() {
		assertRefused("/week/stops/" + STOP.id() + "/move", "version", "3", "technician", "somebody", "day", "tomorrow", "place", "7")
			.contains("id=\"technician-error\"", "id=\"day-error\"", "value=\"7\"", "name=\"version\" value=\"3\"");
		verify(route, never()).move(any(), any());
	}

	@ParameterizedTest
	@CsvSource({ "2026-11-25, 0, Count places from 1.", "2029-11-25, 1, more than a year away" })
	void moveOutOfBoundsIsRefused(String day, String place, String problem) {
		assertRefused("/week/stops/" + STOP.id() + "/move", "version", "3", "technician", LENA.id().toString(), "day", day, "place", place)
			.contains(problem);
		verify(route, never()).move(any(), any());
	}

	@Test
	void missedStopNeedsAReasonAndAShortNote() {
		assertRefused("/week/stops/" + STOP.id() + "/miss", "version", "3", "note", "x".repeat(501)).contains("id=\"reason-error\"",
				"At most 500 characters.");
		verify(route, never()).markMissed(any(), any());
	}

	@ParameterizedTest
	@CsvSource({ "TWICE_WEEKLY, MONDAY, '', '', Twice a week needs a second weekday.",
			"TWICE_WEEKLY, MONDAY, MONDAY, '', Choose a day other than the first.",
			"WEEKLY, MONDAY, '', 2026-01-01, The end lies before the start." })
	void scheduleThatContradictsItselfIsRefused(String frequency, String weekday, String second, String ends, String problem) {
		assertRefused("/pools/" + POOL + "/schedules", "id", UUID.randomUUID().toString(), "frequency", frequency, "weekday", weekday,
				"secondWeekday", second, "technician", LENA.id().toString(), "startsOn", TODAY.toString(), "endsOn", ends)
			.contains(problem);
		verify(schedules, never()).add(any(), any());
	}

	@Test
	void unreadableScheduleIsRefusedWithItsFieldsMarkedAndItsInputKept() {
		assertRefused("/pools/" + POOL + "/schedules", "id", UUID.randomUUID().toString(), "frequency", "YEARLY", "weekday", "Someday",
				"technician", LENA.id().toString(), "startsOn", TODAY.toString(), "place", "first")
			.contains("id=\"frequency-error\"", "id=\"weekday-error\"", "Please enter a whole number.", "value=\"first\"");
		verify(schedules, never()).add(any(), any());
	}

	@Test
	void technicianMayNotMoveStops() {
		SignedInUser technician = new SignedInUser(COMPANY, LENA.id(), Role.TECHNICIAN, LENA.name());
		assertThat(mvc.post().uri("/week/stops/" + STOP.id() + "/move").with(signedInAs(technician)).with(csrf()).param("version", "3"))
			.hasStatus(403);
	}

	private org.assertj.core.api.AbstractStringAssert<?> assertRefused(String address, String... namesAndValues) {
		var request = mvc.post().uri(address).with(signedInAs(OWNER)).with(csrf());
		for (int i = 0; i < namesAndValues.length; i += 2) {
			request = request.param(namesAndValues[i], namesAndValues[i + 1]);
		}
		MvcTestResultAssert answer = assertThat(request.exchange());
		return answer.hasStatusOk().bodyText();
	}

}
