package org.meniscus.isolation;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.HttpCookie;
import java.net.http.HttpResponse;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.meniscus.company.PeopleService;
import org.meniscus.platform.Role;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** Whoever has planted a session id in somebody's browser is not signed in with them: every way in makes a new one. */
@IntegrationTest
class SessionFixationIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	PeopleService people;

	@LocalServerPort
	int port;

	private TestHttpClient visitor() {
		return TestHttpClient.anonymous("http://localhost:" + port);
	}

	@Test
	void signInGivesANewSession() {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		entersWithANewSession(visitor(), "/signin", Map.of("email", owner.email(), "password", TestCompanies.PASSWORD));
	}

	@Test
	void signUpGivesANewSession() {
		entersWithANewSession(visitor(), "/signup",
				Map.of("companyName", "Alderwick Pools", "units", "US", "zone", "America/Phoenix", "currency", "USD", "ownerName",
						"Ida Brook",
						"email", "owner-" + UUID.randomUUID() + "@example.org", "password", TestCompanies.PASSWORD));
	}

	@Test
	void joiningGivesANewSession() {
		String token = people
			.invite(companies.newCompany(UnitSystem.US).user(), "Theo Ashby", "theo-" + UUID.randomUUID() + "@example.org", Role.TECHNICIAN)
			.token();
		entersWithANewSession(visitor(), "/join/" + token, Map.of("password", TestCompanies.PASSWORD));
	}

	private static void entersWithANewSession(TestHttpClient visitor, String path, Map<String, String> form) {
		HttpCookie planted = visitor.sessionCookie();
		assertThat(visitor.send("GET", "/account", Map.of()).statusCode()).as("not signed in yet").isEqualTo(302);
		HttpResponse<String> entered = visitor.send("POST", path, form);
		assertThat(entered.statusCode()).as(entered.body()).isEqualTo(302);
		assertThat(visitor.send("GET", "/account", Map.of()).statusCode()).as("signed in").isEqualTo(200);
		assertThat(visitor.sessionCookie().getValue()).isNotEqualTo(planted.getValue());
		visitor.setCookie(planted);
		assertThat(visitor.send("GET", "/account", Map.of()).statusCode()).as("with the id from before").isEqualTo(302);
	}

}
