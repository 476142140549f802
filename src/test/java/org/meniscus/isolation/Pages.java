package org.meniscus.isolation;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.meniscus.platform.Role;
import org.meniscus.platform.SignedIn;
import org.meniscus.support.PoolRows;
import org.meniscus.support.TestCompanies;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** The pages of the service with the ids of one company that has a row of everything, by who may open them. */
public final class Pages {

	private final Neighbour company;

	private final TestCompanies.Owner office;

	private final TestCompanies.Owner nobody;

	public Pages(TestCompanies companies, PoolRows rows) {
		this.company = new Neighbour(companies, rows);
		this.office = rows.person(company.company, Role.OFFICE, "Olga Finch");
		this.nobody = new TestCompanies.Owner(new SignedIn(company.company, company.technician.user().person(), Role.TECHNICIAN, "Nobody"), "");
	}

	/** Stands for somebody who is not signed in. */
	public TestCompanies.Owner nobody() {
		return nobody;
	}

	/** Each page once as the least person who may open it, and what technicians see as technician. */
	public Map<TestCompanies.Owner, List<String>> byPerson(RequestMappingHandlerMapping mapping) {
		Map<TestCompanies.Owner, List<String>> pages = new LinkedHashMap<>();
		for (Route route : Route.of(mapping)) {
			if (!route.method().equals("GET") || route.pattern().startsWith("/join/") || route.pattern().startsWith("/r/")) {
				continue;
			}
			String declared = route.declaredFor();
			TestCompanies.Owner person = declared.equals("public") ? nobody
					: declared.contains("TECHNICIAN") ? company.technician : declared.contains("OFFICE") ? office : company.owner;
			pages.computeIfAbsent(person, somebody -> new ArrayList<>()).add(path(route));
		}
		return pages;
	}

	private String path(Route route) {
		String kind = route.pattern().split("/").length > 1 ? route.pattern().split("/")[1] : "";
		UUID id = switch (kind) {
			case "clients" -> company.ids.get("client");
			case "products" -> company.ids.get("product");
			case "visits" -> company.ids.get("visit");
			case "people" -> company.ids.get("person");
			case "stops" -> company.ids.get("stop");
			case "plans" -> company.ids.get("plan");
			default -> company.ids.get("pool");
		};
		String path = route.path(id);
		return kind.equals("visit") ? path + "?pool=" + company.ids.get("pool") + "&stop=" + company.ids.get("stop")
				: path.equals("/pools/new") ? path + "?client=" + company.ids.get("client") : path;
	}

}
