package org.meniscus.visit;

import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.meniscus.client.PoolId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.route.RouteFixtures;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.web.context.WebApplicationContext;

/** A technician with one stop today: what tests of the visit's pages start from. */
@IntegrationTest
abstract class VisitPagesTest {

	@Autowired
	WebApplicationContext context;

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	@Autowired
	VisitService visits;

	MockMvc pages;

	RouteFixtures here;

	SignedInUser lena;

	PoolId pool;

	UUID stop;

	@BeforeEach
	final void oneStopToday() {
		pages = MockMvcSignIn.mockMvc(context);
		here = new RouteFixtures(companies, rows);
		lena = here.driver("Lena Ortiz").user();
		pool = here.pool("Rowan Hale", "14 Juniper Lane", "Gate code 4100");
		stop = UUID.randomUUID();
		TenantContext.runAs(here.company, () -> {
			route.addExtra(here.company, new RouteService.AddExtraStop(new StopId(stop), pool, lena.person(), route.today(here.company)));
		});
	}

	final MockHttpServletResponse page(SignedInUser who, String path) throws Exception {
		return pages.perform(get(path).with(signedInAs(who))).andReturn().getResponse();
	}

	final VisitRecord stored(UUID id) {
		return TenantContext.runAs(here.company, () -> visits.find(here.company, new VisitId(id))).orElseThrow();
	}

}
