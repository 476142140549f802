package org.meniscus.support;

import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.platform.UuidGenerator;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.transaction.support.TransactionOperations;

/**
 * Puts pools, visits and doses of a past season straight into the tables, as the service's own database role: for tests that
 * read much and write nothing.
 */
@TestComponent
public class TestRows {

	private static final Set<String> JSON_COLUMNS = Set.of("advice", "evidence", "swim");

	/** Nothing asks for waiting; as water.assess.SwimReadiness. */
	private static final String OPEN_TO_SWIMMERS = """
			{"waitHours": 0, "fcMinimum": 1, "fcMaximum": 4, "conditions": []}""";

	private final JdbcClient jdbc;

	private final TransactionOperations transactions;

	private final UuidGenerator ids;

	private final PasswordEncoder passwords;

	private @Nullable String passwordHash;

	public TestRows(JdbcClient jdbc, TransactionOperations transactions, UuidGenerator ids, PasswordEncoder passwords) {
		this.jdbc = jdbc;
		this.transactions = transactions;
		this.ids = ids;
		this.passwords = passwords;
	}

	/** Runs the work for a company in one transaction; many rows at a time are quicker so. */
	public <T> T inCompany(CompanyId company, Supplier<T> work) {
		return TenantContext.runAs(company, () -> transactions.execute(status -> work.get()));
	}

	/** Somebody who signs in with {@link TestCompanies#PASSWORD}. */
	public TestCompanies.TestUser person(CompanyId company, Role role, String name) {
		UUID id = ids.next();
		String email = role.name().toLowerCase(Locale.ROOT) + "-" + id + "@example.org";
		if (passwordHash == null) {
			passwordHash = passwords.encode(TestCompanies.PASSWORD);
		}
		insert(company, "person", columns("id", id, "name", name, "email", email, "role", role.name(), "password_hash", passwordHash,
				"created_at", now(), "updated_at", now()));
		insert(company, "login", columns("email", email, "user_id", id));
		return new TestCompanies.TestUser(new SignedInUser(company, new PersonId(id), role, name), email);
	}

	public UUID client(CompanyId company, String name, Map<String, Object> more) {
		UUID id = ids.next();
		Map<String, @Nullable Object> row = columns("id", id, "name", name, "created_at", now(), "updated_at", now());
		row.putAll(more);
		insert(company, "client", row);
		return id;
	}

	/** A plaster pool of 60 m³ outdoors. */
	public UUID pool(CompanyId company, UUID client, String name, Map<String, Object> more) {
		UUID id = ids.next();
		Map<String, @Nullable Object> row = columns("id", id, "client_id", client, "name", name, "street", "4 Elm Court", "town",
				"Quombley Falls", "postcode", "00004", "body", "POOL", "surface", "PLASTER", "indoor", false, "sanitizer",
				"CHLORINE_BY_HAND", "volume_litres", 60_000, "volume_certainty", "MEASURED", "created_at", now(), "updated_at", now());
		row.putAll(more);
		insert(company, "pool", row);
		return id;
	}

	/** @param unit G or ML */
	public UUID product(CompanyId company, String kind, String name, double strengthPercent, String unit, Map<String, Object> more) {
		UUID id = ids.next();
		Map<String, @Nullable Object> row = columns("id", id, "kind", kind, "name", name, "form",
				unit.equals("ML") ? "LIQUID" : "GRANULAR", "strength_percent", strengthPercent, "strength_basis",
				unit.equals("ML") ? "TRADE" : "PURITY", "package_amount", 1000, "package_unit", unit, "created_at", now(),
				"updated_at", now());
		row.putAll(more);
		insert(company, "product", row);
		return id;
	}

	/** A visit at noon; readings and the rest by column name. */
	public UUID visit(CompanyId company, UUID pool, PersonId technician, LocalDate day, Map<String, Object> more) {
		UUID id = ids.next();
		Instant noon = day.atTime(LocalTime.NOON).toInstant(ZoneOffset.UTC);
		Map<String, @Nullable Object> row = columns("id", id, "pool_id", pool, "technician_id", technician.value(), "performed_at",
				Timestamp.from(noon), "performed_on", day, "received_at", Timestamp.from(noon), "body_sha256", new byte[32],
				"payload_schema", 1, "situation", "ROUTINE", "swim", OPEN_TO_SWIMMERS);
		row.putAll(more);
		insert(company, "visit", row);
		return id;
	}

	public void dose(CompanyId company, UUID visit, int seq, UUID product, double amount, @Nullable Integer cents) {
		inCompany(company, () -> jdbc.sql("""
				INSERT INTO dose (company_id, visit_id, seq, product_id, product_name, product_kind, strength_percent,
				                  strength_basis, amount, amount_unit, dosed_on, cost_cents, pool_id, technician_id)
				VALUES (:company, :visit, :seq, :product, :name, :kind, :strength, :basis, :amount, :unit, :day, :cents, :pool,
				        :technician)""")
			.params(doseParams(company, visit, product))
			.param("seq", seq)
			.param("amount", BigDecimal.valueOf(amount))
			.param("cents", cents)
			.update());
	}

	private Map<String, Object> doseParams(CompanyId company, UUID visit, UUID product) {
		Map<String, Object> params = new LinkedHashMap<>(jdbc.sql("""
				SELECT v.company_id AS company, v.id AS visit, p.id AS product, p.name, p.kind, p.strength_percent AS strength,
				       p.strength_basis AS basis, p.package_unit AS unit, v.performed_on AS day, v.pool_id AS pool,
				       v.technician_id AS technician
				FROM visit v JOIN product p ON p.company_id = v.company_id
				WHERE v.company_id = ? AND v.id = ? AND p.id = ?""").params(company.value(), visit, product).query().singleRow());
		return params;
	}

	public static Map<String, @Nullable Object> columns(@Nullable Object... namesAndValues) {
		Map<String, @Nullable Object> row = new LinkedHashMap<>();
		for (int i = 0; i < namesAndValues.length; i += 2) {
			row.put(String.valueOf(namesAndValues[i]), namesAndValues[i + 1]);
		}
		return row;
	}

	/** A statement of a test's own, to be run {@link #inCompany} a company. */
	public JdbcClient.StatementSpec sql(String sql) {
		return jdbc.sql(sql);
	}

	/** Column names come from the tests only. */
	public void insert(CompanyId company, String table, Map<String, @Nullable Object> row) {
		String columns = String.join(", ", row.keySet());
		String values = row.keySet()
			.stream()
			.map(column -> JSON_COLUMNS.contains(column) ? "CAST(:" + column + " AS jsonb)" : ":" + column)
			.collect(Collectors.joining(", "));
		inCompany(company, () -> jdbc
			.sql("INSERT INTO " + table + " (company_id, " + columns + ") VALUES (:company, " + values + ")")
			.param("company", company.value())
			.params(row)
			.update());
	}

	private static Timestamp now() {
		return Timestamp.from(Instant.parse("2026-01-01T00:00:00Z"));
	}

}
