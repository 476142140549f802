package org.meniscus.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.platform.TenantContext;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.visit.VisitEntryService;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.SwimReadiness.State;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.web.context.WebApplicationContext;

/** The plan, the stored visit, the pages of the office, the day's list and the homeowner's report say the same of swimming, and say it first when it is no. */
@IntegrationTest
class SwimPagesIT {

	private static final String CLOSED = "Closed to swimmers until a new test or look.";

	private static final Pattern CLOCK_TIME = Pattern.compile("\\d{1,2}:\\d{2}");

	private static final Map<String, Readings> WATERS = Map.of("in order", sound().build(), "no chlorine", sound().fc(0.3).build(),
			"pH high", sound().ph(8.1).build(), "drain not seen", sound().drainVisible(false).build());

	@Autowired
	ClientService clients;

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	VisitEntryService entry;

	@Autowired
	RouteService route;

	@Autowired
	WebApplicationContext context;

	MockMvc pages;

	SeasonFixture season;

	@BeforeEach
	void company() {
		pages = MockMvcSignIn.mockMvc(context);
		season = seasons.newSeason();
	}

	private static Readings.Builder sound() {
		return Readings.builder().fc(3.0).cc(0.0).ph(7.5).ta(100.0).ch(280.0).cya(40.0).celsius(26.0).drainVisible(true);
	}

	@ParameterizedTest
	@EnumSource(Situation.class)
	void pagesAgreeOnSwimming(Situation situation) throws Exception {
		Set<State> seen = EnumSet.noneOf(State.class);
		for (Map.Entry<String, Readings> water : WATERS.entrySet()) {
			seen.add(pagesAgreeOnSwimming(situation, water.getKey(), water.getValue()));
		}
		assertThat(seen).contains(State.CLOSED);
	}

	@ParameterizedTest
	@ValueSource(strings = { "in order", "no chlorine" })
	void pagesAboutThePoolSayThatItIsClosed(String water) throws Exception {
		PoolId pool = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.CHLORINE_BY_HAND);
		season.visit(pool, season.today, Situation.ROUTINE, Objects.requireNonNull(WATERS.get(water)), null);
		StopId stop = new StopId(UUID.randomUUID());
		TenantContext.runAs(season.company, () -> route.addExtra(season.company,
				new RouteService.AddExtraStop(stop, pool, season.technician.user().person(), season.today)));
		UUID client = TenantContext.runAs(season.company, () -> clients.pool(season.company, pool)).client().value();
		String day = "/week/day?technician=" + season.technician.user().person() + "&on=" + season.today;
		for (String path : List.of("/pools/" + pool, "/clients", "/clients/" + client, "/week", day, "/week/stops/" + stop,
				"/visit?pool=" + pool)) {
			assertThat(page(path).contains(CLOSED)).as(path).isEqualTo(water.equals("no chlorine"));
		}
		assertThat(page("/week?from=" + season.today.minusWeeks(1))).as("a week gone by").doesNotContain(CLOSED);
	}

	private State pagesAgreeOnSwimming(Situation situation, String name, Readings readings) throws Exception {
		PoolId pool = season.pool("Rowan Halewood", "en", name, Sanitizer.CHLORINE_BY_HAND);
		PlanResult outcome = TenantContext.runAs(season.company,
				() -> entry.plan(entry.context(season.office(), pool, null), readings, situation, null));
		SwimReadiness planned = outcome.swim();
		boolean closed = planned.state() == State.CLOSED;

		String plan = plan(pool, situation, readings);
		assertThat(plan).as(name).contains("visit-plan");
		assertThat(plan.contains(CLOSED)).as("plan, %s", name).isEqualTo(closed);
		assertThat(plan.contains("Not before ")).as("plan, %s", name)
			.isEqualTo(outcome instanceof Plan && planned.state() == State.AFTER_WAIT);

		VisitRecord visit = season.visit(pool, season.today, situation, readings, null, doses(outcome).toArray(NewDose[]::new));
		assertThat(visit.swim().state()).as("stored, %s", name).isEqualTo(planned.state());
		String stored = page("/visits/" + visit.id());
		assertThat(stored.contains(CLOSED)).as("stored, %s", name).isEqualTo(closed);
		assertThat(stored.contains("not before ")).as("stored, %s", name).isEqualTo(planned.state() == State.AFTER_WAIT);

		StopId stop = new StopId(UUID.randomUUID());
		TenantContext.runAs(season.company, () -> route.addExtra(season.company,
				new RouteService.AddExtraStop(stop, pool, season.technician.user().person(), season.today)));
		String today = part(page("/today?technician=all"), "id=\"stop-" + stop.value() + "\"", "</li>\\s*(<li class=\"sheet|</ol>)");
		assertThat(today.contains(CLOSED)).as("today, %s", name).isEqualTo(closed);

		String whole = report(visit);
		assertThat(whole.indexOf("report-swim")).as("said before anything else").isLessThan(whole.indexOf("report-summary"));
		String report = part(whole, "class=\"report-swim\"", "</section>");
		assertThat(report.contains(CLOSED)).as("report, %s", name).isEqualTo(closed);
		assertThat(CLOCK_TIME.matcher(report).find()).as("report, %s: %s", name, report).isEqualTo(planned.state() == State.AFTER_WAIT);
		assertThat(report.contains("until we tell you")).as("report, %s", name).isEqualTo(planned.needsTreatment());
		return planned.state();
	}

	private List<NewDose> doses(PlanResult outcome) {
		List<NewDose> doses = new ArrayList<>();
		if (outcome instanceof Plan plan) {
			for (Step step : plan.steps()) {
				doses.add(season.dose(step.product().kind(), (step.amount() != null) ? step.amount().amount() : 100));
			}
		}
		return doses;
	}

	private String plan(PoolId pool, Situation situation, Readings readings) throws Exception {
		MockHttpServletRequestBuilder form = post("/visit/plan").param("pool", pool.value().toString())
			.param("situation", situation.name())
			.param("drain", Boolean.TRUE.equals(readings.drainVisible()) ? "yes" : "no")
			.param("temperature", "78.8");
		Map.of("fc", readings.fc(), "cc", readings.cc(), "ph", readings.ph(), "ta", readings.ta(), "ch", readings.ch(), "cya",
				readings.cya())
			.forEach((field, value) -> form.param(field, String.valueOf(value)));
		return pages.perform(form.with(csrf()).with(MockMvcSignIn.signedInAs(season.office())))
			.andReturn()
			.getResponse()
			.getContentAsString();
	}

	private String report(VisitRecord visit) throws Exception {
		String link = (String) pages
			.perform(post("/visits/" + visit.id() + "/share/links").param("link", UUID.randomUUID().toString()).param("days", "7")
				.with(csrf()).with(MockMvcSignIn.signedInAs(season.office())))
			.andReturn()
			.getFlashMap()
			.get("made");
		String address = "198.51.100." + UUID.randomUUID();
		return pages.perform(get("/r/" + link.substring(link.lastIndexOf('/') + 1)).with(request -> {
			request.setRemoteAddr(address);
			return request;
		})).andReturn().getResponse().getContentAsString();
	}

	private String page(String path) throws Exception {
		return pages.perform(get(path).with(MockMvcSignIn.signedInAs(season.office()))).andReturn().getResponse().getContentAsString();
	}

	private static String part(String html, String from, String to) {
		Matcher part = Pattern.compile(Pattern.quote(from) + ".*?" + to, Pattern.DOTALL).matcher(html);
		assertThat(part.find()).as(html).isTrue();
		return part.group();
	}

}
