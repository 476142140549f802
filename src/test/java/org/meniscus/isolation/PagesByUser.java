package org.meniscus.isolation;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** The pages of the service with the ids of one company that has a row of everything, by who may open them. */
public final class PagesByUser {

	private final OtherCompany company;

	private final TestCompanies.TestUser office;

	private final TestCompanies.TestUser anonymous;

	public PagesByUser(TestCompanies companies, TestRows rows) {
		this.company = new OtherCompany(companies, rows);
		this.office = rows.person(company.company, Role.OFFICE, "Olga Finch");
		this.anonymous = new TestCompanies.TestUser(
				new SignedInUser(company.company, company.technician.user().person(), Role.TECHNICIAN, "Nobody"), "");
	}

	/** Stands for somebody who is not signed in. */
	public TestCompanies.TestUser anonymous() {
		return anonymous;
	}

	/** Each page once as the least person who may open it; a pool's page as office, for the technician's stop there is long past. */
	public Map<TestCompanies.TestUser, List<String>> pathsByUser(RequestMappingHandlerMapping mapping) {
		Map<TestCompanies.TestUser, List<String>> pages = new LinkedHashMap<>();
		for (Endpoint route : Endpoint.all(mapping)) {
			// A join link, a report and a file's preview begin with something done before: their own journeys look at them.
			if (!route.method().equals("GET") || route.pattern().matches("/join/.*|/r/.*|/clients/import/\\{id}")) {
				continue;
			}
			String declared = route.authorization();
			TestCompanies.TestUser person = declared.equals("public") ? anonymous
					: (declared.contains("TECHNICIAN") && !route.pattern().matches("/pools/.*|/visits/\\{id}/correct")) ? company.technician
							: declared.contains("OFFICE") ? office : company.owner;
			pages.computeIfAbsent(person, somebody -> new ArrayList<>()).add(path(route));
		}
		return pages;
	}

	private String path(Endpoint route) {
		String path = route.pattern();
		// "/week/stops/{id}" holds a stop, "/pools/{pool}/schedules/{schedule}" a pool and a schedule: the word before the id says of what.
		for (Map.Entry<String, UUID> id : company.ids.entrySet()) {
			path = path.replace("{" + id.getKey() + "}", id.getValue().toString()).replace("/" + id.getKey() + "s/{id}",
					"/" + id.getKey() + "s/" + id.getValue());
		}
		path = path.replace("/people/{id}", "/people/" + company.ids.get("person")).replaceAll("\\{(n|number|seq|index)}", "0");
		if (path.contains("{")) {
			throw new IllegalStateException("of what is the id in " + route + "? Name it by its kind, or teach this class");
		}
		return path + switch (path) {
			case "/visit" -> "?pool=" + company.ids.get("pool") + "&stop=" + company.ids.get("stop");
			case "/pools/new" -> "?client=" + company.ids.get("client");
			case "/week/day" -> "?technician=" + company.ids.get("person") + "&day=2026-09-01";
			default -> "";
		};
	}

}
