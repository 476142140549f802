package org.meniscus.isolation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionOperations;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/**
 * Every route × every role × every id of another company, through HTTP; and every table with raw SQL as the service's own
 * database role. Routes and tables are read from the running service, so new ones are tested without a line here.
 */
@IntegrationTest
class IsolationIT {

	private static final Set<String> WITHOUT_COMPANY = Set.of("spring_session", "spring_session_attributes", "scheduled_tasks",
			"flyway_schema_history");

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	JdbcClient jdbc;

	@Autowired
	TransactionOperations transactions;

	@Autowired
	@Qualifier("requestMappingHandlerMapping")
	RequestMappingHandlerMapping mapping;

	@LocalServerPort
	int port;

	private OtherCompany otherCompany;

	private CompanyId ownCompany;

	private Map<String, TestHttpClient> callers;

	@BeforeEach
	void twoCompanies() {
		otherCompany = new OtherCompany(companies, rows);
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		ownCompany = owner.user().company();
		String base = "http://localhost:" + port;
		callers = new LinkedHashMap<>();
		callers.put("anonymous", TestHttpClient.anonymous(base));
		callers.put("technician", TestHttpClient.signedIn(base, rows.person(ownCompany, Role.TECHNICIAN, "Theo Ashby")));
		callers.put("office", TestHttpClient.signedIn(base, rows.person(ownCompany, Role.OFFICE, "Olga Finch")));
		callers.put("owner", TestHttpClient.signedIn(base, owner));
	}

	@Test
	void noEndpointReadsOrChangesDataOfAnotherCompany() {
		Map<String, String> before = digestsByTable(otherCompany.company);
		List<String> leaks = new ArrayList<>();
		int calls = 0;
		for (Endpoint route : Endpoint.all(mapping)) {
			Map<String, String> fields = route.plausibleFields(otherCompany.ids);
			List<UUID> ids = route.hasId() ? otherCompany.allIds() : List.of(UUID.randomUUID());
			for (Map.Entry<String, TestHttpClient> caller : callers.entrySet()) {
				if (route.pattern().equals("/signout")) {
					continue;
				}
				for (UUID id : ids) {
					HttpResponse<String> answer = caller.getValue().send(route.method(), route.path(id), fields);
					calls++;
					if (answer.body().contains(OtherCompany.MARKER) || answer.headers().map().toString().contains(OtherCompany.MARKER)) {
						leaks.add(caller.getKey() + " sees another company's text: " + route + " with " + id);
					}
					if (answer.statusCode() >= 500) {
						leaks
							.add(caller.getKey() + " makes it fail (" + answer.statusCode() + "): " + route + " with " + id + " " + fields);
					}
				}
			}
		}
		assertThat(leaks).isEmpty();
		assertThat(calls).as("calls made").isGreaterThan(Endpoint.all(mapping).size() * callers.size());
		assertThat(digestsByTable(otherCompany.company)).as("every row of the other company, byte for byte").isEqualTo(before);
	}

	/** The same probe with the neighbour's own owner, so that it is known to be able to find the mark. */
	@Test
	void markerIsFoundByItsOwnCompany() {
		TestHttpClient own = TestHttpClient.signedIn("http://localhost:" + port, otherCompany.owner);
		assertThat(own.send("GET", "/clients", Map.of()).body()).contains(OtherCompany.MARKER);
		assertThat(own.send("GET", "/pools/" + otherCompany.ids.get("pool"), Map.of()).body()).contains(OtherCompany.MARKER);
	}

	@Test
	void rowLevelSecurityHidesOtherCompaniesInEveryTable() {
		for (String table : businessTables()) {
			String company = table.equals("company") ? "id" : "company_id";
			int own = TenantContext.runAs(otherCompany.company, () -> count("SELECT count(*) FROM " + table));
			assertThat(own).as("rows of the neighbour in " + table + ": give it one in Neighbour").isPositive();
			int seen = TenantContext.runAs(ownCompany,
					() -> transactions.execute(status -> jdbc.sql("SELECT count(*) FROM " + table + " WHERE " + company + " = :other")
						.param("other", otherCompany.company.value())
						.query(Integer.class)
						.single()));
			assertThat(seen).as("rows of another company seen in " + table).isZero();
			assertThat(count("SELECT count(*) FROM " + table)).as("rows seen in " + table + " without a company").isZero();
		}
	}

	@Test
	void rowLevelSecurityRejectsWritesForOtherCompaniesInEveryTable() {
		Map<String, String> before = digestsByTable(otherCompany.company);
		for (String table : businessTables()) {
			String company = table.equals("company") ? "id" : "company_id";
			assertThatThrownBy(() -> write("INSERT INTO " + table + " (" + company + ") VALUES (:other)")).as("insert into " + table)
				.isInstanceOf(DataAccessException.class)
				.rootCause()
				.hasMessageContaining("row-level security");
			for (String statement : List.of("DELETE FROM " + table + " WHERE " + company + " = :other",
					"UPDATE " + table + " SET " + company + " = " + company + " WHERE " + company + " = :other")) {
				if (!isPermitted(table, statement.startsWith("DELETE") ? "DELETE" : "UPDATE")) {
					continue;
				}
				assertThat(write(statement)).as(statement).isZero();
			}
		}
		assertThat(digestsByTable(otherCompany.company)).isEqualTo(before);
	}

	@Test
	void lookupKeyReadsOneRowOfItsTableOnly() {
		int links = TenantContext.runLookup(otherCompany.linkToken, () -> count("SELECT count(*) FROM report_link"));
		assertThat(links).isEqualTo(1);
		byte[] email = TenantContext.sha256(otherCompany.owner.email().getBytes(StandardCharsets.UTF_8));
		assertThat(TenantContext.<Integer>runLookup(email, () -> count("SELECT count(*) FROM login"))).isEqualTo(1);
		assertThat(TenantContext.<Integer>runLookup(email, () -> count("SELECT count(*) FROM person"))).isZero();
		assertThat(TenantContext.<Integer>runLookup(otherCompany.linkToken, () -> transactions
			.execute(status -> jdbc.sql("UPDATE report_link SET revoked_at = now() WHERE token_hash = :hash")
				.param("hash", otherCompany.linkToken).update())))
			.as("a key is for reading only")
			.isZero();
	}

	private int write(String statement) {
		return TenantContext.runAs(ownCompany, () -> transactions.execute(status -> {
			int changed = jdbc.sql(statement).param("other", otherCompany.company.value()).update();
			status.setRollbackOnly();
			return changed;
		}));
	}

	private boolean isPermitted(String table, String privilege) {
		return transactions.execute(status -> jdbc.sql("SELECT has_table_privilege(:table, :privilege)")
			.param("table", "public." + table)
			.param("privilege", privilege)
			.query(Boolean.class)
			.single());
	}

	private int count(String sql) {
		return transactions.execute(status -> jdbc.sql(sql).query(Integer.class).single());
	}

	private List<String> businessTables() {
		return transactions
			.execute(
					status -> jdbc.sql("SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1").query(String.class).list())
			.stream()
			.filter(table -> !WITHOUT_COMPANY.contains(table))
			.toList();
	}

	/** One digest per table over all of a company's rows. */
	private Map<String, String> digestsByTable(CompanyId company) {
		Map<String, String> prints = new TreeMap<>();
		for (String table : businessTables()) {
			prints.put(table, TenantContext.runAs(company, () -> transactions.execute(status -> jdbc
				.sql("SELECT coalesce(md5(string_agg(t::text, '|' ORDER BY t::text)), 'empty') FROM " + table + " t")
				.query(String.class)
				.single())));
		}
		return prints;
	}

}
