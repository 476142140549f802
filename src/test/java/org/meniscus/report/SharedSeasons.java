package org.meniscus.report;

import java.time.Clock;
import java.time.LocalDate;

import org.meniscus.client.ClientBook;
import org.meniscus.product.ProductShelf;
import org.meniscus.support.PoolRows;
import org.meniscus.support.TestCompanies;
import org.meniscus.visit.VisitBook;
import org.springframework.boot.test.context.TestComponent;

/** Makes a {@link SharedSeason} that ends today. */
@TestComponent
public class SharedSeasons {

	private final TestCompanies companies;

	private final PoolRows rows;

	private final ClientBook clients;

	private final ProductShelf shelf;

	private final VisitBook visits;

	private final Clock clock;

	public SharedSeasons(TestCompanies companies, PoolRows rows, ClientBook clients, ProductShelf shelf, VisitBook visits, Clock clock) {
		this.companies = companies;
		this.rows = rows;
		this.clients = clients;
		this.shelf = shelf;
		this.visits = visits;
		this.clock = clock;
	}

	public SharedSeason newSeason() {
		return new SharedSeason(companies, rows, clients, shelf, visits, LocalDate.now(clock.withZone(SharedSeason.ZONE)));
	}

}
