package org.meniscus.isolation;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.meniscus.platform.Role;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Who may use each route is written down apart from the service, and nobody else gets through. */
@IntegrationTest
class RolesIT {

	/** One route a line: method, pattern and the roles that may use it, or "anyone". Written by hand, not read from the service. */
	private static final String TABLE = "/routes-and-roles.txt";

	private static final String ANYONE = "anyone";

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	@Qualifier("requestMappingHandlerMapping")
	RequestMappingHandlerMapping mapping;

	@LocalServerPort
	int port;

	@Test
	void everyRouteStandsInTheTable() throws IOException {
		assertThat(Endpoint.all(mapping)).extracting(Endpoint::toString).containsExactlyInAnyOrderElementsOf(rolesByRoute().keySet());
	}

	@Test
	void everyRouteAdmitsOnlyTheRolesOfTheTable() throws IOException {
		Map<String, Set<String>> rolesByRoute = rolesByRoute();
		OtherCompany own = new OtherCompany(companies, rows);
		String base = "http://localhost:" + port;
		Map<Role, TestHttpClient> callers = new LinkedHashMap<>();
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		callers.put(Role.TECHNICIAN, TestHttpClient.signedIn(base, rows.person(owner.user().company(), Role.TECHNICIAN, "Theo Ashby")));
		callers.put(Role.OFFICE, TestHttpClient.signedIn(base, rows.person(owner.user().company(), Role.OFFICE, "Olga Finch")));
		callers.put(Role.OWNER, TestHttpClient.signedIn(base, owner));
		TestHttpClient anonymous = TestHttpClient.anonymous(base);
		List<String> wrong = new ArrayList<>();
		int refused = 0;
		for (Endpoint route : Endpoint.all(mapping)) {
			Set<String> roles = rolesByRoute.getOrDefault(route.toString(), Set.of());
			boolean anyone = roles.contains(ANYONE);
			HttpResponse<String> stranger = anonymous.send(route.method(), route.path(own.ids.get("pool")), Map.of());
			boolean sentAway = stranger.statusCode() == 401 || stranger.statusCode() == 403
					|| (stranger.statusCode() == 302 && stranger.headers().firstValue("Location").orElse("").contains("/signin"));
			if (sentAway == anyone && !route.pattern().equals("/")) {
				wrong.add("a stranger gets " + stranger.statusCode() + " from " + route);
			}
			for (Map.Entry<Role, TestHttpClient> caller : anyone ? Map.<Role, TestHttpClient>of().entrySet() : callers.entrySet()) {
				boolean may = roles.contains(caller.getKey().name());
				// Of a company that has none of these ids: who is let in is told that there is no such thing, not that he may not.
				int status = caller.getValue().send(route.method(), route.path(own.ids.get("pool")), route.plausibleFields(own.ids))
					.statusCode();
				if (may == (status == 403)) {
					wrong.add(caller.getKey() + " gets " + status + " from " + route + ", which is for " + roles);
				}
				refused += may ? 0 : 1;
			}
		}
		assertThat(wrong).isEmpty();
		assertThat(refused).as("refusals seen").isGreaterThan(20);
	}

	/** Every field of every form takes anything a client can send: refused beside the field or not found, never a failure. */
	@Test
	void noEndpointFailsOnMalformedInput() {
		OtherCompany own = new OtherCompany(companies, rows);
		TestHttpClient owner = TestHttpClient.signedIn("http://localhost:" + port, own.owner);
		List<String> failed = new ArrayList<>();
		for (Endpoint route : Endpoint.all(mapping)) {
			if (route.pattern().equals("/signout")) {
				continue;
			}
			Map<String, String> plausible = route.plausibleFields(own.ids);
			for (String junk : List.of("", "a lot", "-1", "99999999999999999999", "<b>&\u0000\ud83c\udfca", "x".repeat(5000))) {
				Map<String, String> fields = new LinkedHashMap<>();
				plausible.keySet().forEach(field -> fields.put(field, junk));
				for (Map.Entry<String, UUID> id : own.ids.entrySet()) {
					// The company's own ids: what is there and not there both count.
					if (!route.hasId() || route.pattern().contains(id.getKey()) || id.getKey().equals("pool")
							|| (id.getKey().equals("person") && route.pattern().contains("people"))) {
						int status = owner.send(route.method(), route.path(id.getValue()), fields).statusCode();
						if (status >= 500) {
							failed.add(status + " from " + route + " with '" + junk.substring(0, Math.min(10, junk.length())) + "' for "
									+ id.getKey());
						}
						if (!route.hasId()) {
							break;
						}
					}
				}
			}
		}
		assertThat(failed).isEmpty();
	}

	private static Map<String, Set<String>> rolesByRoute() throws IOException {
		Map<String, Set<String>> table = new LinkedHashMap<>();
		String text = new String(Objects.requireNonNull(RolesIT.class.getResourceAsStream(TABLE)).readAllBytes(), StandardCharsets.UTF_8);
		for (String line : text.lines().filter(line -> !line.isBlank() && !line.startsWith("#")).toList()) {
			List<String> words = List.of(line.trim().split("\\s+"));
			Set<String> roles = new TreeSet<>(words.subList(2, words.size()));
			assertThat(roles).as(line).isNotEmpty().isSubsetOf(ANYONE, "TECHNICIAN", "OFFICE", "OWNER");
			assertThat(table.put(words.get(0) + " " + words.get(1), roles)).as("twice: " + line).isNull();
		}
		return table;
	}

}
