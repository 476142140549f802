package org.meniscus.report;

import java.time.Clock;
import java.time.LocalDate;

import org.meniscus.client.ClientService;
import org.meniscus.product.ProductService;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.VisitService;
import org.springframework.boot.test.context.TestComponent;

/** Makes a {@link SeasonFixture} that ends today. */
@TestComponent
public class SeasonFixtures {

	private final TestCompanies companies;

	private final TestRows rows;

	private final ClientService clients;

	private final ProductService products;

	private final VisitService visits;

	private final Clock clock;

	public SeasonFixtures(TestCompanies companies, TestRows rows, ClientService clients, ProductService products, VisitService visits,
			Clock clock) {
		this.companies = companies;
		this.rows = rows;
		this.clients = clients;
		this.products = products;
		this.visits = visits;
		this.clock = clock;
	}

	public SeasonFixture newSeason() {
		return new SeasonFixture(companies, rows, clients, products, visits, LocalDate.now(clock.withZone(SeasonFixture.ZONE)));
	}

}
