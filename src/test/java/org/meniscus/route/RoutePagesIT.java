package org.meniscus.route;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.allOf;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.hamcrest.Matchers.startsWith;
import static org.meniscus.route.RouteFixtures.weekly;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.web.context.WebApplicationContext;

@IntegrationTest
class RoutePagesIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	@Autowired
	ScheduleService schedules;

	@Autowired
	WebApplicationContext context;

	MockMvc pages;

	RouteFixtures here;

	SignedInUser owner;

	SignedInUser lena;

	SignedInUser tom;

	LocalDate today;

	PoolId pool;

	@BeforeEach
	void companyWithOneStopToday() {
		pages = MockMvcSignIn.mockMvc(context);
		here = new RouteFixtures(companies, rows);
		owner = here.owner.user();
		lena = here.driver("Lena Ortiz").user();
		tom = here.driver("Tom Ashe").user();
		pool = here.pool("Rowan Hale", "5 Juniper Lane", "Gate code 4711");
		today = TenantContext.runAs(here.company, () -> route.today(here.company));
		TenantContext.runAs(here.company, () -> {
			schedules.add(here.company, weekly(pool, lena.person(), today.getDayOfWeek(), today));
		});
	}

	@Test
	void weekShowsStopsAndCountsMissingOnes() throws Exception {
		asOwner(get("/week")).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Rowan Hale"), containsString("Lena Ortiz"), containsString("Tom Ashe"),
					not(containsString("missing stop")))));
		asOwner(get("/week").param("from", today.plusWeeks(3).toString())).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Make 1 missing stop"), not(containsString("Rowan Hale")))));
		asOwner(post("/week/make").param("from", today.plusWeeks(3).toString())).andExpect(status().is3xxRedirection());
		asOwner(get("/week").param("from", today.plusWeeks(3).toString()))
			.andExpect(content().string(allOf(not(containsString("missing stop")), containsString("Rowan Hale"))));
		for (String nonsense : List.of("soon", "2026-13-45", "9999-12-31", "")) {
			asOwner(get("/week").param("from", nonsense)).andExpect(status().isOk())
				.andExpect(content().string(containsString("Rowan Hale")));
		}
	}

	@Test
	void boardIsReturnedToScriptAndStaleMoveIsRefused() throws Exception {
		StopLine seen = stop();
		asOwner(post("/week/move").header("HX-Request", "true").param("to", to(seen, tom, 1)).param("from", today.toString()))
			.andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("id=\"week-board\""), containsString("Rowan Hale moved: Tom Ashe"),
					not(containsString("<html")))));
		asOwner(post("/week/move").header("HX-Request", "true").param("to", to(seen, lena, 1)).param("from", today.toString()))
			.andExpect(status().isConflict())
			.andExpect(content().string(allOf(containsString("id=\"week-board\""), containsString("Somebody else changed this stop"))));
		assertThat(stop().technician()).isEqualTo(tom.person());
		here.done(stop());
		asOwner(post("/week/move").header("HX-Request", "true").param("to", to(stop(), lena, 1)).param("from", today.toString()))
			.andExpect(status().isConflict())
			.andExpect(content().string(containsString("This stop is done")));
		asOwner(post("/week/move").param("to", "nonsense")).andExpect(status().isBadRequest());
	}

	@Test
	void moveWithoutScriptRedirectsToBoardWithMessage() throws Exception {
		StopLine seen = stop();
		asOwner(post("/week/move").param("to", to(seen, tom, 1)).param("from", today.toString()))
			.andExpect(redirectedUrl("/week?from=" + today + "#stop-" + seen.id()));
		assertThat(stop().technician()).isEqualTo(tom.person());
	}

	@Test
	void stopFormMovesStopAndKeepsInputWhenStale() throws Exception {
		StopLine seen = stop();
		LocalDate tomorrow = today.plusDays(1);
		asOwner(get("/week/stops/" + seen.id())).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Stop at Rowan Hale"), containsString("Mark as missed"))));
		asOwner(form("/week/stops/" + seen.id() + "/move", seen.version()).param("technician", tom.person().toString())
			.param("day", tomorrow.toString())).andExpect(status().is3xxRedirection());
		assertThat(stop().plannedOn()).isEqualTo(tomorrow);
		asOwner(form("/week/stops/" + seen.id() + "/move", seen.version()).param("technician", lena.person().toString())
			.param("day", today.toString())
			.param("place", "7")).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Somebody else changed this stop"), containsString("value=\"7\""),
					containsString("name=\"version\" value=\"" + stop().version() + "\""))));
		assertThat(stop().technician()).isEqualTo(tom.person());
	}

	@Test
	void stopIsNotGivenToSomebodyWhoLeft() throws Exception {
		StopLine seen = stop();
		here.leaves(tom.person());
		asOwner(form("/week/stops/" + seen.id() + "/move", seen.version()).param("technician", tom.person().toString())
			.param("day", today.toString())).andExpect(content().string(containsString("no longer works here")));
		assertThat(stop()).isEqualTo(seen);
	}

	@Test
	void missedStopIsMarkedShownAndUndone() throws Exception {
		StopLine seen = stop();
		asOwner(form("/week/stops/" + seen.id() + "/miss", seen.version()).param("reason", "DOG").param("note", "<b>loose</b>"))
			.andExpect(status().is3xxRedirection());
		asOwner(get("/week/stops/" + seen.id()))
			.andExpect(content().string(
					allOf(containsString("dog in the way"), containsString("&lt;b&gt;loose&lt;/b&gt;"), not(containsString("<b>loose")))));
		asOwner(get("/week")).andExpect(content().string(containsString("missed: dog in the way")));
		asOwner(form("/week/stops/" + seen.id() + "/undo", seen.version())).andExpect(status().isOk())
			.andExpect(content().string(containsString("Somebody else changed this stop")));
		asOwner(form("/week/stops/" + seen.id() + "/undo", stop().version())).andExpect(status().is3xxRedirection());
		assertThat(stop().state()).isEqualTo(StopState.PLANNED);
	}

	@Test
	void extraStopFormAddsOnceAndRemoves() throws Exception {
		asOwner(get("/week/stops/new").param("on", today.toString())).andExpect(status().isOk())
			.andExpect(content().string(containsString("Rowan Hale · Pool 1")));
		String id = UUID.randomUUID().toString();
		for (int i = 0; i < 2; i++) {
			asOwner(post("/week/stops/new").param("id", id)
				.param("pool", pool.toString())
				.param("technician", tom.person().toString())
				.param("day", today.toString())).andExpect(redirectedUrl("/week?from=" + today + "&saved#stop-" + id));
		}
		assertThat(stops()).hasSize(2);
		asOwner(post("/week/stops/new").param("id", id)).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("id=\"pool-error\""), containsString("id=\"day-error\""))));
		asOwner(form("/week/stops/" + id + "/remove", 0)).andExpect(status().is3xxRedirection());
		assertThat(stops()).hasSize(1);
		asOwner(form("/week/stops/" + stop().id() + "/remove", stop().version())).andExpect(status().isNotFound());
	}

	@Test
	void scheduleFormAddsChangesAndRefusesAStaleChange() throws Exception {
		String address = "/pools/" + pool + "/schedules";
		asOwner(get(address)).andExpect(status().isOk()).andExpect(content().string(containsString("Every week")));
		asOwner(planned(post(address), "MONTHLY").param("weekday", "MONDAY").param("secondWeekday", "TUESDAY"))
			.andExpect(redirectedUrl(address + "?saved"));
		List<ServiceScheduleSummary> stored = TenantContext.runAs(here.company, () -> schedules.of(here.company, pool));
		assertThat(stored).hasSize(2);
		ServiceScheduleSummary monthly = stored.stream().filter(plan -> plan.recurrence().frequency() == Frequency.MONTHLY).findFirst()
			.orElseThrow();
		asOwner(get(address + "/" + monthly.id())).andExpect(status().isOk())
			.andExpect(content().string(containsString("Remove this schedule")));
		asOwner(planned(post(address + "/" + monthly.id()), "WEEKLY").param("weekday", "FRIDAY").param("version", "" + monthly.version()))
			.andExpect(redirectedUrl(address + "?saved"));
		asOwner(planned(post(address + "/" + monthly.id()), "WEEKLY").param("weekday", "TUESDAY").param("version", "" + monthly.version()))
			.andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Somebody else changed this while you were editing"),
					containsString("The schedule as it is now: Every week, Friday"),
					containsString("<option value=\"TUESDAY\" selected=\"selected\">"))));
		assertThat(TenantContext.runAs(here.company, () -> schedules.schedule(here.company, monthly.id())).recurrence().weekday())
			.isEqualTo(DayOfWeek.FRIDAY);
		asOwner(get("/week/schedules")).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("1 pool with a service schedule"), containsString("Friday"))));
		asOwner(form(address + "/" + monthly.id() + "/remove", monthly.version() + 1)).andExpect(redirectedUrl(address + "?saved"));
		assertThat(TenantContext.runAs(here.company, () -> schedules.of(here.company, pool))).hasSize(1);
	}

	@Test
	void wholeDayIsReassigned() throws Exception {
		String day = "/week/day?technician=" + lena.person() + "&on=" + today;
		asOwner(get(day)).andExpect(status().isOk()).andExpect(content().string(containsString("The planned stop goes to the end")));
		asOwner(post("/week/day/hand-over").param("technician", lena.person().toString())
			.param("on", today.toString())
			.param("to", tom.person().toString())
			.param("day", "")).andExpect(status().isOk()).andExpect(content().string(containsString("id=\"day-error\"")));
		asOwner(post("/week/day/hand-over").param("technician", lena.person().toString())
			.param("on", today.toString())
			.param("to", tom.person().toString())
			.param("day", today.toString())).andExpect(redirectedUrl("/week?from=" + today));
		assertThat(stop().technician()).isEqualTo(tom.person());
		asOwner(post("/week/day/order").param("technician", tom.person().toString()).param("on", today.toString()))
			.andExpect(redirectedUrl("/week?from=" + today));
	}

	@Test
	void todayShowsWhatTheTechnicianNeedsForTheStop() throws Exception {
		UUID visit = here.visit(pool, lena.person(), today);
		as(lena, get("/today")).andExpect(status().isOk())
			.andExpect(header().string("Cache-Control", containsString("no-store")))
			.andExpect(content().string(allOf(containsString("Rowan Hale"), containsString("geo:33.50000,-112.10000?q=5%20Juniper%20Lane"),
					containsString("Gate code 4711"), containsString("out of range (low)"), containsString("In range: pH 7.5, CYA 40"),
					containsString("Calcium hypochlorite"), containsString("7.1 oz"),
					containsString("/visit?pool=" + pool + "&amp;stop=" + stop().id()))));
		assertThat(visit).isNotNull();
	}

	@Test
	void technicianSeesAccessNotesOnlyOnTheDayOfTheStop() throws Exception {
		as(lena, get("/today").param("on", today.plusWeeks(1).toString())).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Rowan Hale"), not(containsString("4711")),
					containsString("Access notes are shown on the day of the stop."))));
		asOwner(get("/today").param("on", today.plusWeeks(1).toString())).andExpect(content().string(containsString("4711")));
	}

	@Test
	void technicianSeesOnlyHisOwnStops() throws Exception {
		as(tom, get("/today")).andExpect(status().isOk())
			.andExpect(content().string(allOf(not(containsString("Rowan Hale")), not(containsString("4711")),
					containsString("No stops for you on this day."))));
		as(tom, get("/today").param("technician", lena.person().toString())).andExpect(status().isNotFound());
		as(tom, get("/today").param("technician", "all")).andExpect(status().isNotFound());
		as(tom, get("/today").param("technician", tom.person().toString())).andExpect(status().isOk());
		// moved away in the morning: the page of whoever had it shows it no more
		StopLine seen = stop();
		TenantContext.runAs(here.company,
				() -> route.move(here.company, new RouteService.MoveStop(seen.id(), seen.version(), tom.person(), today, null)));
		as(lena, get("/today")).andExpect(content().string(allOf(not(containsString("Rowan Hale")), not(containsString("4711")))));
		as(tom, get("/today")).andExpect(content().string(containsString("4711")));
	}

	@Test
	void officeChoosesWhoseDayIsShown() throws Exception {
		asOwner(get("/today")).andExpect(content().string(allOf(containsString("Rowan Hale"), containsString("Everybody"))));
		asOwner(get("/today").param("technician", tom.person().toString())).andExpect(content().string(not(containsString("Rowan Hale"))));
		asOwner(get("/today").param("technician", "nobody")).andExpect(status().isNotFound());
		asOwner(get("/today").param("technician", UUID.randomUUID().toString())).andExpect(status().isNotFound());
	}

	@Test
	void todayIsShownInSpanish() throws Exception {
		here.visit(pool, lena.person(), today);
		as(lena, get("/today").locale(java.util.Locale.forLanguageTag("es-US"))).andExpect(status().isOk())
			.andExpect(content().string(allOf(containsString("Notas de acceso"), containsString("Empezar la visita"),
					containsString("fuera de rango (bajo)"), containsString("Se usó la última vez"),
					containsString("1 parada, 1 por hacer"),
					not(containsString("Start the visit")), not(containsString("In range")))));
	}

	@Test
	void techniciansCannotOpenPlanningPages() throws Exception {
		StopLine seen = stop();
		for (String path : List.of("/week", "/week/schedules", "/week/stops/new", "/week/stops/" + seen.id(),
				"/pools/" + pool + "/schedules",
				"/week/day?technician=" + lena.person())) {
			as(lena, get(path)).andExpect(status().isForbidden());
		}
		as(lena, form("/week/stops/" + seen.id() + "/undo", 0)).andExpect(status().isForbidden());
		as(lena, post("/week/make")).andExpect(status().isForbidden());
		as(lena, post("/week/move").param("to", to(seen, tom, 1))).andExpect(status().isForbidden());
	}

	@Test
	void idsOfAnotherCompanyAndMalformedIdsAreNotFound() throws Exception {
		RouteFixtures elsewhere = new RouteFixtures(companies, rows);
		SignedInUser stranger = elsewhere.owner.user();
		StopLine seen = stop();
		ServiceScheduleSummary schedule = TenantContext.runAs(here.company, () -> schedules.of(here.company, pool)).get(0);
		for (String path : List.of("/week/stops/" + seen.id(), "/pools/" + pool + "/schedules",
				"/pools/" + pool + "/schedules/" + schedule.id(),
				"/pools/" + elsewhere.pool() + "/schedules/" + schedule.id(), "/week/day?technician=" + lena.person(),
				"/today?technician=" + lena.person(), "/week/stops/nonsense", "/pools/nonsense/schedules",
				"/week/day?technician=nonsense")) {
			as(stranger, get(path)).andExpect(status().isNotFound());
		}
		as(stranger,
				form("/week/stops/" + seen.id() + "/move", 0).param("technician", stranger.person().toString()).param("day",
						today.toString()))
			.andExpect(status().isNotFound());
		as(stranger, form("/week/stops/" + seen.id() + "/miss", 0).param("reason", "DOG")).andExpect(status().isNotFound());
		as(stranger, form("/week/stops/" + seen.id() + "/undo", 0)).andExpect(status().isNotFound());
		as(stranger, form("/week/stops/" + seen.id() + "/remove", 0)).andExpect(status().isNotFound());
		as(stranger, post("/week/move").param("to", to(seen, stranger, 1))).andExpect(status().isNotFound());
		as(stranger, planned(post("/pools/" + pool + "/schedules"), "WEEKLY").param("weekday", "MONDAY")).andExpect(status().isNotFound());
		as(stranger, post("/week/stops/new").param("id", UUID.randomUUID().toString())
			.param("pool", pool.toString())
			.param("technician", stranger.person().toString())
			.param("day", today.toString())).andExpect(status().isNotFound());
		assertThat(stop()).isEqualTo(seen);
	}

	@Test
	void anonymousVisitorsAreRedirectedToSignIn() throws Exception {
		for (String path : List.of("/week", "/today")) {
			pages.perform(get(path).accept(MediaType.TEXT_HTML)).andExpect(status().is3xxRedirection())
				.andExpect(header().string("Location", startsWith("/signin")));
		}
	}

	private MockHttpServletRequestBuilder planned(MockHttpServletRequestBuilder request, String frequency) {
		return request.param("id", UUID.randomUUID().toString())
			.param("frequency", frequency)
			.param("technician", lena.person().toString())
			.param("startsOn", today.toString());
	}

	private static MockHttpServletRequestBuilder form(String address, long version) {
		return post(address).param("version", "" + version);
	}

	private static String to(StopLine stop, SignedInUser technician, int place) {
		return String.join(",", stop.id().toString(), "" + stop.version(), technician.person().toString(), stop.plannedOn().toString(),
				"" + place);
	}

	private ResultActions asOwner(MockHttpServletRequestBuilder request) throws Exception {
		return as(owner, request);
	}

	private ResultActions as(SignedInUser user, MockHttpServletRequestBuilder request) throws Exception {
		return pages.perform(request.with(MockMvcSignIn.signedInAs(user)).with(csrf()));
	}

	/** The one stop of today and tomorrow. */
	private StopLine stop() {
		assertThat(stops()).hasSize(1);
		return stops().get(0);
	}

	private List<StopLine> stops() {
		return today.datesUntil(today.plusDays(2))
			.flatMap(day -> TenantContext.runAs(here.company, () -> route.week(here.company, day))
				.stops()
				.stream()
				.filter(stop -> stop.plannedOn().equals(day)))
			.toList();
	}

}
